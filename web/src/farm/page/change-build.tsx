import { useState } from "preact/hooks";
import { api } from "../../api/client";
import { explainField } from "../../api/explain";
import { Problem } from "../../api/problem";
import type { BuildSheet, Pack, UnitPage } from "../../api/types";
import { Button } from "../../ui/button";
import { Choice } from "../../ui/choice";
import { DateField } from "../../ui/date-field";
import { TextField } from "../../ui/field";
import { FormDialog } from "../../ui/form-dialog";
import { NumberField } from "../../ui/number-field";
import { Table } from "../../ui/table";
import { bodyOf, linesApart, linesOf } from "./build-lines";
import { useFarm } from "./context";
import { pageWords } from "./words";

type Answer = "yes" | "no" | "";

/**
 * ChangeBuild corrects a build sheet. Where somebody else has changed it in
 * the meantime both versions stand side by side, and the person chooses.
 */
export function ChangeBuild({
  unit,
  pack,
  onClose,
}: {
  unit: UnitPage;
  pack: Pack | undefined;
  onClose: () => void;
}) {
  const words = pageWords();
  const { farm, changed } = useFarm();
  const [name, setName] = useState(unit.name);
  const [build, setBuild] = useState<BuildSheet>(unit.build);
  const [version, setVersion] = useState(unit.version);
  const [theirs, setTheirs] = useState<UnitPage | null>(null);
  const send = async () => {
    try {
      await api.put("/api/units/{id}", { path: { id: unit.id }, version, body: bodyOf(unit, name, build) });
    } catch (problem) {
      if (problem instanceof Problem && problem.status === 412) {
        const now = await readUnit(farm.id, unit.id);
        setTheirs(now ?? null);
        if (now) setVersion(now.version);
      }
      throw problem;
    }
    changed();
  };
  const set = (part: Partial<BuildSheet>) => setBuild((old) => ({ ...old, ...part }));
  return (
    <FormDialog
      title={words.form.build.title}
      save={theirs ? words.form.build.keepMine : undefined}
      send={send}
      onClose={onClose}
      done={words.form.saved}
      texts={words.form.problems}
    >
      {(error) => (
        <>
          {theirs && (
            <Versions
              mine={build}
              theirs={theirs.build}
              pack={pack}
              take={() => {
                setBuild(theirs.build);
                setName(theirs.name);
                setTheirs(null);
              }}
            />
          )}
          <p class="field-hint">{words.form.build.hint}</p>
          <TextField
            label={words.form.build.name}
            value={name}
            onValue={setName}
            input={{ maxLength: 200 }}
            error={explainField(error, "name", words.form.problems)}
          />
          <Sizes build={build} set={set} error={error} />
          <Materials build={build} set={set} />
          <Fittings build={build} set={set} />
          <WaterAndDates build={build} set={set} error={error} />
        </>
      )}
    </FormDialog>
  );
}

async function readUnit(farmId: string, unitId: string): Promise<UnitPage | undefined> {
  const { body } = await api.get("/api/farms/{id}", { path: { id: farmId } });
  return body.units.find((u) => u.id === unitId);
}

/** Versions sets two versions of a build sheet side by side. */
export function Versions({
  mine,
  theirs,
  pack,
  take,
}: {
  mine: BuildSheet;
  theirs: BuildSheet;
  pack: Pack | undefined;
  take: () => void;
}) {
  const words = pageWords().form.build;
  return (
    <section class="versions">
      <p>{words.theirs}</p>
      <Table
        caption={words.title}
        columns={[
          { key: "what", head: words.field, cell: (l) => l.label },
          { key: "mine", head: words.mineHead, cell: (l) => l.mine || words.unknown },
          { key: "theirs", head: words.theirsHead, cell: (l) => l.theirs || words.unknown },
        ]}
        rows={linesApart(mine, theirs, pack)}
        keyOf={(l) => l.key}
        empty={<p>{words.same}</p>}
      />
      <Button onClick={take}>{words.takeTheirs}</Button>
    </section>
  );
}

interface Part {
  build: BuildSheet;
  set: (part: Partial<BuildSheet>) => void;
}

function Sizes({ build, set, error }: Part & { error: unknown }) {
  const words = pageWords();
  const lengths = ["length", "width"] as const;
  return (
    <div class="fields">
      {lengths.map((key) => (
        <NumberField
          key={key}
          label={words.build[key]}
          hint={linesOf(build, undefined).find((l) => l.key === key)?.text}
          value={build[key].value || null}
          onValue={(value) => set({ [key]: { ...build[key], value: value ?? 0 } })}
          measure={build[key].measure || "m"}
          measures={["m", "ft"]}
          onMeasure={(measure) => set({ [key]: { ...build[key], measure } })}
          min={0}
          max={10_000}
          optional
          error={explainField(error, `build.${key}`, words.form.problems)}
        />
      ))}
      <NumberField
        label={words.build.capacity}
        value={build.capacity || null}
        onValue={(value) => set({ capacity: value ?? 0 })}
        whole
        min={0}
        optional
        error={explainField(error, "build.capacity", words.form.problems)}
      />
      <TextField
        label={words.build.standard}
        value={build.standard}
        onValue={(standard) => set({ standard })}
        input={{ maxLength: 100 }}
        optional
      />
    </div>
  );
}

function Materials({ build, set }: Part) {
  const words = pageWords().build;
  const columns = ["wall_base", "cover", "water"] as const;
  return (
    <div class="fields">
      {columns.map((key) => (
        <TextField
          key={key}
          label={words[key]}
          value={build[key]}
          onValue={(value) => set({ [key]: value })}
          input={{ maxLength: 100 }}
          optional
        />
      ))}
    </div>
  );
}

function Fittings({ build, set }: Part) {
  const words = pageWords();
  const fittings = ["double_door", "drain", "lined", "paths", "feed_platforms"] as const;
  const options = [
    { value: "yes" as const, label: words.form.build.yes },
    { value: "no" as const, label: words.form.build.no },
    { value: "" as const, label: words.form.build.unknown },
  ];
  return (
    <div class="fields fittings">
      {fittings.map((key) => (
        <Choice
          key={key}
          label={words.build[key]}
          value={build[key] as Answer}
          onValue={(value: Answer) => set({ [key]: value })}
          options={options}
        />
      ))}
    </div>
  );
}

function WaterAndDates({ build, set, error }: Part & { error: unknown }) {
  const words = pageWords();
  const defects = ["0", "6", "12"].map((value) => ({
    value,
    label: value === "0" ? words.form.build.noDefects : `${value} ${words.form.build.months}`,
  }));
  return (
    <div class="fields">
      <NumberField
        label={words.build.tank_litres}
        value={build.tank_litres || null}
        onValue={(value) => set({ tank_litres: value ?? 0 })}
        measure={words.form.build.litres}
        min={0}
        optional
        error={explainField(error, "build.tank_litres", words.form.problems)}
      />
      <NumberField
        label={words.build.pump}
        value={build.pump.value || null}
        onValue={(value) => set({ pump: { ...build.pump, value: value ?? 0 } })}
        measure={build.pump.measure || "hp"}
        measures={["hp", "ch", "kW"]}
        onMeasure={(measure) => set({ pump: { ...build.pump, measure } })}
        min={0}
        optional
        error={explainField(error, "build.pump", words.form.problems)}
      />
      <DateField
        label={words.build.handed_over_on}
        value={build.handed_over_on}
        onValue={(handed_over_on) => set({ handed_over_on })}
        optional
        error={explainField(error, "build.handed_over_on", words.form.problems)}
      />
      <Choice
        label={words.form.build.defects}
        value={String(build.defects_months)}
        onValue={(value) => set({ defects_months: Number(value) })}
        options={defects}
      />
    </div>
  );
}
