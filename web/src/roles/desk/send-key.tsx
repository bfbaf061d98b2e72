import { spoken } from "../../keyboard/combo";
import { type Command, comboFor, useCommand } from "../../keyboard/commands";
import { Button } from "../../ui/button";
import { deskWords } from "./words";

const command: Command = { id: "desk.send", combo: "Ctrl+Enter", label: () => deskWords().keys.send };

/** SendKey is the button of a form that its key presses too, from any field. */
export function SendKey({ label, busy, send }: { label: string; busy: boolean; send: () => void }) {
  useCommand(command, send);
  return (
    <Button kind="main" type="submit" busy={busy}>
      {label} <kbd>{spoken(comboFor(command))}</kbd>
    </Button>
  );
}
