import { useLayoutEffect, useRef } from "preact/hooks";
import { isoOf, today } from "../../../time/day";
import { Button } from "../../../ui/button";
import { SelectField } from "../../../ui/choice";
import { DateField } from "../../../ui/date-field";
import { CheckField, TextField } from "../../../ui/field";
import { zoneOf } from "../firm";
import type { Promised } from "../server";
import { deskWords } from "../words";
import type { PartProps } from "./call-form";
import { type PromiseDraft, type PromiseKind, promiseDays, promiseKinds, type Wrong } from "./draft";

const most = 5;

/** Promises are what is promised on this call, each with its day. */
export function Promises({ farm, draft, set, wrong }: PartProps & { wrong: Wrong }) {
  const words = deskWords().call;
  const box = useRef<HTMLDivElement>(null);
  const count = draft.promises.length;
  const added = useRef(false);
  useLayoutEffect(() => {
    // A promise that was just added is what one writes next.
    if (added.current)
      box.current
        ?.querySelectorAll<HTMLElement>("select")
        .item(count - 1)
        ?.focus();
    added.current = false;
  }, [count]);
  const day = today(farm && zoneOf(farm.branch_id));
  const [from, to] = promiseDays(day);
  const change = (at: number, more: Partial<PromiseDraft>) =>
    set({ promises: draft.promises.map((p, i) => (i === at ? { ...p, ...more } : p)) });
  const add = () => {
    added.current = true;
    set({ promises: [...draft.promises, { kind: "call-back", text: "", dueOn: isoOf(day + 1) }] });
  };
  return (
    <div class="promises" ref={box}>
      {draft.promises.map((promise, i) => (
        <div class="promise-fields" key={i}>
          <SelectField<PromiseKind>
            label={words.promise}
            options={promiseKinds.map((v) => ({ value: v, label: words.promiseKinds[v] }))}
            value={promise.kind}
            onValue={(kind) => kind && change(i, { kind })}
          />
          <TextField
            label={words.promiseText}
            input={{ maxLength: 500, autoComplete: "off" }}
            value={promise.text}
            onValue={(text) => change(i, { text })}
            error={wrong[`promise-${i}`] && words.wrong.promise}
          />
          <DateField
            label={words.promiseOn}
            min={from}
            max={to}
            error={wrong[`promise-day-${i}`] && words.wrong.promiseDay}
            value={promise.dueOn}
            onValue={(dueOn) => change(i, { dueOn })}
          />
          <button
            type="button"
            class="button button-quiet"
            aria-label={words.dropPromise(promise.text)}
            onClick={() => set({ promises: draft.promises.filter((_, at) => at !== i) })}
          >
            ×
          </button>
        </div>
      ))}
      {count < most && (
        <Button kind="quiet" onClick={add}>
          {words.addPromise}
        </Button>
      )}
    </div>
  );
}

/** KeptPromises offers the open promises of the farm that this call keeps. */
export function KeptPromises({
  promises,
  draft,
  set,
}: Pick<PartProps, "draft" | "set"> & { promises: readonly Promised[] }) {
  const words = deskWords().call;
  if (promises.length === 0) return null;
  const toggle = (id: string, kept: boolean) =>
    set({ keeps: kept ? [...draft.keeps, id] : draft.keeps.filter((k) => k !== id) });
  return (
    <fieldset class="keeps">
      <legend>{words.keeps}</legend>
      {promises.map((p) => (
        <CheckField
          key={p.id}
          label={words.keepsOne(p.text || deskWords().promises.noWords, p.due_on)}
          checked={draft.keeps.includes(p.id)}
          onChecked={(kept) => toggle(p.id, kept)}
        />
      ))}
    </fieldset>
  );
}
