import { useState } from "preact/hooks";
import type { CyclePage, Pack, PackItem } from "../../api/types";
import { Button } from "../../ui/button";
import { said } from "../packs";
import { personName, usePeople } from "../people";
import { farmWords } from "../words";
import { type Check, type CheckList, checksOf } from "./checks";
import { MarkItem } from "./mark-item";
import { rangeWords, withMeasure } from "./measured";
import { Basis } from "./schedule";
import { pageWords } from "./words";

/** Checklists shows every list of the cycle's pack with how far it is; one that a go-ahead waits for stands open. */
export function Checklists({ cycle, pack }: { cycle: CyclePage; pack: Pack }) {
  const [marking, setMarking] = useState<PackItem | null>(null);
  const words = pageWords();
  const lists = checksOf(cycle, pack);
  usePeople(cycle.marks.map((m) => m.person_id));
  return (
    <section>
      <h3>{words.parts.checklists}</h3>
      {lists.map((list) => (
        <ListOfChecks key={list.list.key} list={list} pack={pack} onMark={setMarking} />
      ))}
      {marking && <MarkItem cycle={cycle} item={marking} pack={pack} onClose={() => setMarking(null)} />}
    </section>
  );
}

function ListOfChecks({
  list,
  pack,
  onMark,
}: {
  list: CheckList;
  pack: Pack;
  onMark: (item: PackItem) => void;
}) {
  const words = pageWords();
  const name = said(list.list.name);
  return (
    <details class="checks" data-print={list.checks.some((c) => c.mark) || undefined}>
      <summary>
        <strong>{name}</strong>{" "}
        <span class="checks-count">{words.checklist.verified(list.verified, list.checks.length)}</span>
        {list.needed > 0 && (
          <span class="checks-needed">
            {words.milestones.lacks(list.needed)} {words.checklist.needed}
          </span>
        )}
      </summary>
      <ul class="ruled">
        {list.checks.map((check) => (
          <CheckLine key={check.item.key} check={check} pack={pack} onMark={onMark} />
        ))}
      </ul>
    </details>
  );
}

function CheckLine({ check, pack, onMark }: { check: Check; pack: Pack; onMark: (item: PackItem) => void }) {
  const words = pageWords().checklist;
  const { item, mark } = check;
  const text = said(item.text);
  return (
    <li class="check-line">
      <CheckMark state={check.state} />
      <div>
        {text}
        {item.measured && rangeWords(item.measured) && (
          <span class="minor">
            {rangeWords(item.measured)} <Basis grade={item.measured.grade} />
          </span>
        )}
        <span class="minor">
          {mark ? <MarkWords check={check} /> : words.open}
          {check.state === "weak" && ` · ${words.wordOnly}`}
          {check.needed && ` · ${words.needed}`}
        </span>
        <details class="help no-print">
          <summary>{words.look}</summary>
          <p>{said(item.help)}</p>
          {item.in_person && <p>{words.inPerson}</p>}
          {item.caution && pack.cautions[item.caution] && (
            <p>
              <strong>{words.caution}:</strong> {said(pack.cautions[item.caution])}
            </p>
          )}
        </details>
      </div>
      <Button onClick={() => onMark(item)} aria-label={words.markOf(text)}>
        {words.mark}
      </Button>
    </li>
  );
}

function MarkWords({ check: { item, mark } }: { check: Check }) {
  const words = pageWords();
  if (!mark) return null;
  const grades = farmWords().grade;
  const parts = [
    words.checklist.answers[mark.answer] ?? mark.answer,
    mark.value !== undefined && item.measured ? withMeasure(mark.value, item.measured.measure) : "",
    words.checklist.on(mark.on),
    grades[mark.grade as keyof typeof grades] ?? mark.grade,
    personName(mark.person_id),
  ];
  return <>{parts.filter(Boolean).join(", ")}</>;
}

// A box that is ticked, crossed, half filled or empty: it reads without colour.
function CheckMark({ state }: { state: Check["state"] }) {
  return (
    <svg class={`box box-${state}`} viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
      <rect x="1.5" y="1.5" width="13" height="13" />
      {state === "verified" && <path d="m4 8.3 2.8 2.9L12 5" />}
      {state === "no" && <path d="m4.5 4.5 7 7m0-7-7 7" />}
      {state === "weak" && <path d="M4 8h8" />}
    </svg>
  );
}
