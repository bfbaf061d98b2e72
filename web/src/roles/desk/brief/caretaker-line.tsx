import type { ComponentChildren } from "preact";
import type { FarmPage } from "../../../api/types";
import { namesOf, packOf } from "../../../farm/packs";
import { formats } from "../../../i18n/format";
import { isoOf, today } from "../../../time/day";
import { zoneOf } from "../firm";
import { deskWords } from "../words";
import { Dotted, Line } from "./line";
import { trainingOf } from "./training";

/** CaretakerLine is who looks after the animals and how far they are trained. */
export function CaretakerLine({ farm }: { farm: FarmPage }) {
  const words = deskWords().brief;
  const people = [...farm.people].sort((a, b) => Number(b.in_charge) - Number(a.in_charge)).slice(0, 2);
  return (
    <Line name={words.lines.caretaker}>
      {people.length === 0 && words.noCaretaker}
      {people.map((worker) => (
        <p class="unit-line" key={worker.person_id}>
          <b>{worker.name}</b>
          <Dotted parts={trainingParts(farm, worker)} />
        </p>
      ))}
      {people.length > 0 && !people.some((p) => p.in_charge) && <p>{words.nobodyInCharge}</p>}
    </Line>
  );
}

function trainingParts(farm: FarmPage, worker: FarmPage["people"][number]): ComponentChildren[] {
  const words = deskWords().brief;
  const on = isoOf(today(zoneOf(farm.branch_id)));
  return [...new Set(farm.units.map((u) => u.enterprise))].flatMap((enterprise) => {
    const pack = packOf(enterprise);
    if (!pack || pack.modules.length === 0) return [];
    const names = namesOf(enterprise);
    const name = (key: string) => names("module", key) ?? key;
    const { passed, all, missing, lapsed } = trainingOf(worker, pack, on);
    const shown = missing.slice(0, 2).map(name);
    return [
      words.passed(passed, all),
      shown.length > 0 && words.lacks(formats().list(shown)) + (missing.length > 2 ? " …" : ""),
      ...lapsed.slice(0, 1).map((l) => words.lapsed(name(l.module), l.until)),
    ];
  });
}
