import { computed, signal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { comboOf, isSingle } from "./combo";

/** A Command is something a key does on the page that shows it. */
export interface Command {
  /** Stable name under which a changed key is kept: "desk.find". */
  id: string;
  /** The key as it comes: "F2", "j", "Ctrl+k". */
  combo: string;
  /** What it does, in the language spoken now. */
  label: () => string;
}

interface Kept {
  changed: Record<string, string>;
  singles: boolean;
}

const storage = "tendfold.keys";
const kept = signal<Kept>(read());

function read(): Kept {
  try {
    const found = JSON.parse(globalThis.localStorage?.getItem(storage) ?? "{}") as Partial<Kept>;
    return { changed: found.changed ?? {}, singles: found.singles ?? true };
  } catch {
    return { changed: {}, singles: true };
  }
}

function keep(next: Kept): void {
  kept.value = next;
  localStorage.setItem(storage, JSON.stringify(next));
}

interface Bound {
  command: Command;
  run: () => void;
}

const bound = signal<readonly Bound[]>([]);

/** commands are those of the page as it is now, in the order in which they came. */
export const commands = computed(() => bound.value.map((b) => b.command));

/** singleKeys says whether single letters work as keys. */
export const singleKeys = computed(() => kept.value.singles);

/** setSingleKeys switches single letters on or off. */
export function setSingleKeys(on: boolean): void {
  keep({ ...kept.peek(), singles: on });
}

/** comboFor is the key of a command: as changed by the person, else as it comes. */
export function comboFor(command: Command): string {
  return kept.value.changed[command.id] ?? command.combo;
}

/** changeKey gives a command another key; the same as it comes with takes the change back. */
export function changeKey(command: Command, combo: string): void {
  const { [command.id]: _, ...others } = kept.peek().changed;
  const changed = combo === command.combo ? others : { ...others, [command.id]: combo };
  keep({ ...kept.peek(), changed });
}

/** resetKeys gives every command the key that it comes with. */
export function resetKeys(): void {
  keep({ ...kept.peek(), changed: {} });
}

/** holderOf is the command that has a key now, if any but `besides`. */
export function holderOf(combo: string, besides?: Command): Command | undefined {
  return commands.value.find((c) => c.id !== besides?.id && comboFor(c) === combo);
}

/**
 * useCommand lets a key do something while the component is on the screen.
 * Single letters rest while the person types, and all keys while a dialog is open.
 */
export function useCommand(command: Command, run: () => void): void {
  const latest = useRef(run);
  latest.current = run;
  useEffect(() => {
    const mine: Bound = { command, run: () => latest.current() };
    bound.value = [...bound.peek(), mine];
    return () => {
      bound.value = bound.peek().filter((b) => b !== mine);
    };
  }, [command.id, command.combo]);
}

/** press runs the command of a key press, if there is one that may run now. */
export function press(event: KeyboardEvent): void {
  if (event.defaultPrevented || event.repeat) return;
  const combo = comboOf(event);
  const resting = isSingle(combo) && (!kept.peek().singles || isTyping(event.target));
  if (!combo || resting || document.querySelector("dialog[open]")) return;
  // The innermost part of the page came last, and its keys come first.
  const found = [...bound.peek()].reverse().find((b) => comboFor(b.command) === combo);
  if (!found) return;
  event.preventDefault();
  found.run();
}

function isTyping(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false;
  return target.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName);
}

/** listen starts hearing keys; the shell does so once. The answer stops it. */
export function listen(): () => void {
  document.addEventListener("keydown", press);
  return () => document.removeEventListener("keydown", press);
}
