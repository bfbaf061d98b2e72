import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import { shared } from "../i18n/shared/words";
import { Button } from "../ui/button";
import { Dialog } from "../ui/dialog";
import { CheckField } from "../ui/field";
import { comboOf, isReserved, spoken } from "./combo";
import {
  type Command,
  changeKey,
  comboFor,
  commands,
  holderOf,
  listen,
  resetKeys,
  setSingleKeys,
  singleKeys,
  useCommand,
} from "./commands";
import "./keys.css";

const help: Command = { id: "help", combo: "F1", label: () => shared().keys.help };

const open = signal(false);

/** KeyHelpButton opens the list of keys, for those who do not know F1. */
export function KeyHelpButton() {
  return (
    <Button kind="quiet" onClick={() => (open.value = true)}>
      {shared().keys.title} <kbd>{spoken(comboFor(help))}</kbd>
    </Button>
  );
}

/** KeyHelp hears the keys of the page; F1 lists them, and every one can be changed. The shell has one. */
export function KeyHelp() {
  useEffect(listen, []);
  useCommand(help, () => {
    open.value = true;
  });
  const words = shared().keys;
  return (
    <Dialog open={open.value} title={words.title} onClose={() => (open.value = false)}>
      <KeyTable />
      <CheckField label={words.singles} checked={singleKeys.value} onChecked={setSingleKeys} />
      <Button onClick={resetKeys}>{words.reset}</Button>
    </Dialog>
  );
}

function KeyTable() {
  const words = shared().keys;
  const all = commands.value.filter((c, i, list) => list.findIndex((other) => other.id === c.id) === i);
  return (
    <table class="keys">
      <thead>
        <tr>
          <th scope="col">{words.does}</th>
          <th scope="col">{words.key}</th>
          <th scope="col">
            <span class="unseen">{words.change}</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {all.map((command) => (
          <KeyLine key={command.id} command={command} />
        ))}
      </tbody>
    </table>
  );
}

function KeyLine({ command }: { command: Command }) {
  const words = shared().keys;
  const [asking, setAsking] = useState(false);
  const [trouble, setTrouble] = useState("");
  const take = (event: KeyboardEvent) => {
    const combo = comboOf(event);
    if (!asking || !combo || combo === "Tab" || combo === "Shift+Tab") return;
    event.preventDefault();
    event.stopPropagation();
    const holder = holderOf(combo, command);
    if (combo !== "Escape" && isReserved(combo)) return setTrouble(words.reserved(spoken(combo)));
    if (holder) return setTrouble(words.taken(spoken(combo), holder.label()));
    if (combo !== "Escape") changeKey(command, combo);
    setTrouble("");
    setAsking(false);
  };
  return (
    <tr>
      <th scope="row">{command.label()}</th>
      <td>
        <kbd>{spoken(comboFor(command))}</kbd>
      </td>
      <td>
        <button
          type="button"
          class="button button-plain"
          aria-label={words.changeOf(command.label())}
          onClick={() => setAsking(true)}
          onKeyDown={take}
          onBlur={() => setAsking(false)}
        >
          {words.change}
        </button>
        <span role="status">{trouble || (asking ? words.press : "")}</span>
      </td>
    </tr>
  );
}
