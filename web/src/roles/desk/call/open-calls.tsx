import { useEffect } from "preact/hooks";
import { useLocation } from "preact-iso";
import { useCommand } from "../../../keyboard/commands";
import { deskWords } from "../words";
import { clockOf, useSecond } from "./call-clock";
import type { Draft } from "./draft";
import { openCalls, readDrafts } from "./kept";

const addressOf = (draft: Draft) => (draft.farmId ? `/desk/farms/${draft.farmId}` : "/desk/call");

/**
 * OpenCalls names the calls that are held open, each with its time and the
 * way to it, on every page of the desk; one key goes from one to the next.
 */
export function OpenCalls() {
  const words = deskWords().call;
  const { path, route } = useLocation();
  const now = useSecond();
  useEffect(() => {
    readDrafts().catch(() => undefined);
  }, []);
  const calls = openCalls.value;
  const here = calls.findIndex((c) => addressOf(c) === path);
  const next = calls[(here + 1) % Math.max(1, calls.length)];
  useCommand({ id: "desk.call.next", combo: "F6", label: () => words.openNext }, () => {
    if (next && addressOf(next) !== path) route(addressOf(next));
  });
  const others = calls.filter((c) => addressOf(c) !== path);
  if (others.length === 0) return null;
  return (
    <nav class="open-calls" aria-label={words.open}>
      <b>{words.open}</b> <kbd>F6</kbd>{" "}
      {others.map((c) => (
        <a key={c.id} href={addressOf(c)}>
          {c.farm || words.noFarm} <span aria-hidden="true">{clockOf(c.startedAt, now)}</span>
        </a>
      ))}
    </nav>
  );
}
