import { Button } from "../../../../ui/button";
import { TextField } from "../../../../ui/field";
import { deskWords } from "../../words";

interface Props {
  measure: string;
  typed: string;
  onTyped: (text: string) => void;
  unsure: boolean;
  onAnswer: (number: number) => void;
  onUnsure: () => void;
}

const most = 1_000_000;

/** numberIn reads a number as people type it, with a comma or a point; undefined when it is none. */
export function numberIn(typed: string): number | undefined {
  const value = Number(typed.trim().replace(",", "."));
  return typed.trim() !== "" && value >= 0 && value <= most ? value : undefined;
}

/** NumberAnswer takes a number with Enter, or that it is not known. */
export function NumberAnswer({ measure, typed, onTyped, unsure, onAnswer, onUnsure }: Props) {
  const words = deskWords().call.card;
  const number = numberIn(typed);
  const take = () => number !== undefined && onAnswer(number);
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: Enter in the field takes the answer and does not send the note
    <div
      class="card-number"
      onKeyDown={(event) => {
        if (event.key !== "Enter" || event.ctrlKey || !(event.target instanceof HTMLInputElement)) return;
        event.preventDefault();
        take();
      }}
    >
      <TextField
        label={words.answer(measure)}
        input={{ inputMode: "decimal", maxLength: 12, autoComplete: "off" }}
        value={typed}
        onValue={onTyped}
      />
      <Button disabled={number === undefined} onClick={take}>
        {words.next} <kbd>↵</kbd>
      </Button>
      {unsure && (
        <Button kind="quiet" onClick={onUnsure}>
          {words.unsure}
        </Button>
      )}
    </div>
  );
}
