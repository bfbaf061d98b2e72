import { useState } from "preact/hooks";
import { explainField } from "../../api/explain";
import type { CyclePage, Pack, UnitPage } from "../../api/types";
import { formats } from "../../i18n/format";
import { isoOf, today } from "../../time/day";
import { Button } from "../../ui/button";
import { SelectField } from "../../ui/choice";
import { DateField } from "../../ui/date-field";
import { TextField } from "../../ui/field";
import { FormDialog } from "../../ui/form-dialog";
import { NumberField } from "../../ui/number-field";
import { Table } from "../../ui/table";
import { namesOf, said } from "../packs";
import { useFarm } from "./context";
import { emptyField, useEntry } from "./entry";
import { Refused } from "./refused";
import { pageWords } from "./words";

/** Stock lists the batches of a unit and notes a stocking. */
export function Stock({ unit, pack }: { unit: UnitPage; pack: Pack | undefined }) {
  const [asked, ask] = useState(false);
  const words = pageWords();
  const { date, number, measure } = formats();
  const batches = [...unit.batches].sort((a, b) => (a.stocked_on < b.stocked_on ? 1 : -1));
  const name = (species: string) => said(pack?.species.find((s) => s.key === species)?.name) || species;
  return (
    <section>
      <h3>{words.parts.stock}</h3>
      {batches.length === 0 ? (
        <p class="empty">{words.stock.none}</p>
      ) : (
        <Table
          caption={`${words.parts.stock}: ${unit.name}`}
          columns={[
            { key: "on", head: words.stock.on, cell: (b) => date(b.stocked_on) },
            { key: "species", head: words.stock.species, cell: (b) => name(b.species) },
            { key: "count", head: words.stock.count, number: true, cell: (b) => number(b.count) },
            {
              key: "weight",
              head: words.stock.weight,
              number: true,
              cell: (b) => (b.mean_weight_g ? measure(b.mean_weight_g, "g", 1) : ""),
            },
            { key: "source", head: words.stock.source, cell: (b) => b.source },
          ]}
          rows={batches}
          keyOf={(b) => b.id}
        />
      )}
      <Crowding unit={unit} />
      {unit.cycle && <Button onClick={() => ask(true)}>{words.stock.add}</Button>}
      {asked && unit.cycle && (
        <NoteStocking unit={unit} cycle={unit.cycle} pack={pack} onClose={() => ask(false)} />
      )}
    </section>
  );
}

function Crowding({ unit }: { unit: UnitPage }) {
  const words = pageWords().stock;
  const { number } = formats();
  const count = unit.batches
    .filter((b) => b.cycle_id === unit.cycle?.id)
    .reduce((sum, b) => sum + b.count, 0);
  if (count === 0) return null;
  const over = unit.build.capacity > 0 && count > unit.build.capacity;
  return (
    <p>
      {unit.area_m2 > 0 && `${words.density(number(count / unit.area_m2, 1))}. `}
      {over && words.over(number(unit.build.capacity))}
    </p>
  );
}

function NoteStocking({
  unit,
  cycle,
  pack,
  onClose,
}: {
  unit: UnitPage;
  cycle: CyclePage;
  pack: Pack | undefined;
  onClose: () => void;
}) {
  const words = pageWords().form;
  const { farm } = useFarm();
  const enter = useEntry();
  const [on, setOn] = useState(isoOf(today(farm.branch.time_zone)));
  const [species, setSpecies] = useState(unit.species || (pack?.species[0]?.key ?? ""));
  const [count, setCount] = useState<number | null>(null);
  const [mean, setMean] = useState<number | null>(null);
  const [source, setSource] = useState("");
  const [lost, setLost] = useState<number | null>(null);
  const [anyway, setAnyway] = useState(false);
  const caution = pack?.species.find((s) => s.key === species)?.caution;
  const send = async () => {
    if (count === null) throw emptyField("count");
    await enter({
      kind: "stocking",
      cycle_id: cycle.id,
      on,
      data: {
        species,
        count,
        ...(mean === null ? {} : { mean_weight_g: mean }),
        ...(source.trim() ? { source } : {}),
        ...(lost === null ? {} : { lost_on_the_way: lost }),
        ...(anyway ? { anyway } : {}),
      },
    });
  };
  const field = (error: unknown, name: string) => explainField(error, name, words.problems);
  return (
    <FormDialog
      title={words.stocking.title}
      send={send}
      onClose={onClose}
      done={words.saved}
      texts={words.problems}
    >
      {(error) => (
        <>
          <Refused
            error={error}
            goAhead={null}
            names={namesOf(cycle.enterprise)}
            anyway={anyway}
            setAnyway={setAnyway}
          />
          <DateField label={words.day} value={on} onValue={setOn} error={field(error, "on")} quick />
          <SelectField
            label={words.stocking.species}
            value={species}
            onValue={setSpecies}
            options={(pack?.species ?? []).map((s) => ({ value: s.key, label: said(s.name) }))}
            error={field(error, "data.species")}
          />
          {caution && pack?.cautions[caution] && <p class="caution">{said(pack.cautions[caution])}</p>}
          <NumberField
            label={words.stocking.count}
            value={count}
            onValue={setCount}
            whole
            min={1}
            error={field(error, "data.count")}
          />
          <NumberField
            label={words.stocking.mean}
            value={mean}
            onValue={setMean}
            measure="g"
            min={0}
            max={50_000}
            optional
            error={field(error, "data.mean_weight_g")}
          />
          <TextField
            label={words.stocking.source}
            value={source}
            onValue={setSource}
            input={{ maxLength: 200 }}
            optional
            error={field(error, "data.source")}
          />
          <NumberField
            label={words.stocking.lost}
            hint={words.stocking.dead}
            value={lost}
            onValue={setLost}
            whole
            min={0}
            optional
            error={field(error, "data.lost_on_the_way")}
          />
        </>
      )}
    </FormDialog>
  );
}
