import { spoken } from "../../../keyboard/combo";
import { type Command, comboFor, useCommand } from "../../../keyboard/commands";
import { deskWords } from "../words";
import { keyOf, type Move } from "./moves";

/** MovesBar offers what may be done with the ticket, each with its key; what is not allowed is not there. */
export function MovesBar({
  legal,
  chosen,
  choose,
  farm,
}: {
  legal: readonly Move[];
  chosen: Move | null;
  choose: (move: Move) => void;
  farm: () => void;
}) {
  useCommand({ id: "desk.farm", combo: "f", label: () => deskWords().keys.farm }, farm);
  return (
    <fieldset class="moves" aria-label={deskWords().ticket.moves.title}>
      {legal.map((move) => (
        <MoveButton key={move} move={move} here={move === chosen} choose={() => choose(move)} />
      ))}
    </fieldset>
  );
}

function MoveButton({ move, here, choose }: { move: Move; here: boolean; choose: () => void }) {
  const name = deskWords().ticket.moves[move];
  const command: Command = {
    id: `desk.ticket.${move}`,
    combo: keyOf[move],
    label: () => deskWords().keys.move(name),
  };
  useCommand(command, choose);
  return (
    <button type="button" class="button button-plain" aria-expanded={here} onClick={choose}>
      {name} <kbd>{spoken(comboFor(command))}</kbd>
    </button>
  );
}
