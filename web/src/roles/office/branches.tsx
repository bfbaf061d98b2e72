import { useState } from "preact/hooks";
import { api } from "../../api/client";
import { explainField } from "../../api/explain";
import { useRead } from "../../api/read";
import type { Branch } from "../../api/types";
import { formats } from "../../i18n/format";
import { language } from "../../i18n/language";
import { Page } from "../../shell/page";
import { isoOf, partsOf, today } from "../../time/day";
import { Button } from "../../ui/button";
import { DateField } from "../../ui/date-field";
import { CheckField, TextField } from "../../ui/field";
import { FormDialog } from "../../ui/form-dialog";
import { Shown } from "../../ui/shown";
import { Empty, Trouble } from "../../ui/states";
import { type Column, Table } from "../../ui/table";
import type { Holiday } from "./types";
import { officeWords } from "./words";

/** Branches lists the branches with their days off, and changes both. */
export function Branches() {
  const words = officeWords();
  const [form, setForm] = useState<Branch | "new" | null>(null);
  const read = useRead("branches", async (signal) => (await api.get("/api/branches", { signal })).body.items);
  return (
    <Page
      title={words.branches.title}
      aside={<Button onClick={() => setForm("new")}>{words.branches.add}</Button>}
    >
      <Shown read={read} texts={words.problems}>
        {(branches) =>
          branches.length === 0 ? (
            <Empty>{words.branches.none}</Empty>
          ) : (
            branches.map((b) => <BranchPart key={b.id} branch={b} change={() => setForm(b)} />)
          )
        }
      </Shown>
      {form && (
        <BranchForm
          {...(form === "new" ? {} : { branch: form })}
          onClose={() => setForm(null)}
          saved={() => void read.again()}
        />
      )}
    </Page>
  );
}

function BranchPart({ branch, change }: { branch: Branch; change: () => void }) {
  const words = officeWords().branches;
  const [adding, setAdding] = useState(false);
  const { year } = partsOf(today());
  const read = useRead(`calendar ${branch.id} ${branch.version}`, async (signal) => {
    const call = { path: { id: branch.id }, query: { year }, signal };
    return (await api.get("/api/branches/{id}/calendar", call)).body.holidays;
  });
  const [refused, setRefused] = useState<unknown>(null);
  const takeBack = (on: string) => {
    setRefused(null);
    api
      .delete("/api/branches/{id}/holidays/{on}", { path: { id: branch.id, on } })
      .then(read.again, setRefused);
  };
  return (
    <section aria-label={branch.name}>
      <h2>
        {branch.name}{" "}
        <Button kind="quiet" aria-label={words.changeOf(branch.name)} onClick={change}>
          {words.change}
        </Button>
      </h2>
      <p>
        {branch.time_zone}
        {branch.country && `, ${branch.country}`}
        {branch.start_at && ` · ${words.startAt}: ${branch.start_at}`}
      </p>
      {refused !== null && <Trouble error={refused} texts={officeWords().problems} />}
      <Shown read={read}>
        {(days) => (
          <details class="days-off" open={days.some(entered)}>
            <summary>{words.holidays(branch.name, year)}</summary>
            <DaysOff caption={words.holidays(branch.name, year)} days={days} takeBack={takeBack} />
          </details>
        )}
      </Shown>
      <Button onClick={() => setAdding(true)}>{words.addDay}</Button>
      {adding && <DayForm branch={branch} onClose={() => setAdding(false)} saved={() => void read.again()} />}
    </section>
  );
}

const entered = (day: Holiday) => day.key === "entered";

function DaysOff(shown: { caption: string; days: readonly Holiday[]; takeBack: (on: string) => void }) {
  const words = officeWords().branches;
  const { date } = formats();
  const said = (d: Holiday) => {
    const more = [d.sighted && words.sighted, d.in_lieu && words.inLieu].filter(Boolean).join("; ");
    return `${language.value === "fr" ? d.name.fr : d.name.en}${more ? ` (${more})` : ""}`;
  };
  const doings: Column<Holiday> = {
    key: "do",
    head: officeWords().doings,
    cell: (d) =>
      entered(d) && (
        <Button kind="quiet" aria-label={words.removeOf(d.on)} onClick={() => shown.takeBack(d.on)}>
          {words.remove}
        </Button>
      ),
  };
  return (
    <Table
      caption={shown.caption}
      rows={shown.days}
      keyOf={(d) => d.on}
      columns={[
        { key: "on", head: words.day, cell: (d) => date(d.on) },
        { key: "what", head: words.what, cell: said },
        ...(shown.days.some(entered) ? [doings] : []),
      ]}
    />
  );
}

function DayForm({ branch, onClose, saved }: { branch: Branch; onClose: () => void; saved: () => void }) {
  const words = officeWords();
  const [on, setOn] = useState(isoOf(today()));
  const [name, setName] = useState("");
  const [works, setWorks] = useState(false);
  const send = async () => {
    await api.put("/api/branches/{id}/holidays/{on}", { path: { id: branch.id, on }, body: { name, works } });
    saved();
  };
  return (
    <FormDialog
      title={words.branches.addDay}
      send={send}
      onClose={onClose}
      done={words.branches.saved}
      texts={words.problems}
    >
      {(error) => (
        <>
          <DateField
            label={words.branches.day}
            value={on}
            onValue={setOn}
            error={explainField(error, "on", words.problems)}
          />
          <TextField label={words.branches.what} value={name} onValue={setName} input={{ maxLength: 200 }} />
          <CheckField label={words.branches.works} checked={works} onChecked={setWorks} />
        </>
      )}
    </FormDialog>
  );
}

function BranchForm({ branch, onClose, saved }: { branch?: Branch; onClose: () => void; saved: () => void }) {
  const words = officeWords();
  const [asked, setAsked] = useState({
    name: branch?.name ?? "",
    time_zone: branch?.time_zone ?? Intl.DateTimeFormat().resolvedOptions().timeZone,
    country: branch?.country ?? "",
    start_at: branch?.start_at ?? "",
  });
  const send = async () => {
    const kept = branch ? { start: branch.start, hours: branch.hours } : {};
    const body = { ...kept, ...asked };
    if (branch)
      await api.put("/api/branches/{id}", { path: { id: branch.id }, version: branch.version, body });
    else await api.post("/api/branches", { body });
    saved();
  };
  const wrong: Record<string, string> = words.branches.wrong;
  const ask = (error: unknown, key: keyof typeof asked, label: string, hint?: string, optional = false) => (
    <TextField
      label={label}
      hint={hint}
      optional={optional}
      value={asked[key]}
      onValue={(value) => setAsked({ ...asked, [key]: value })}
      error={explainField(
        error,
        key,
        wrong[key] ? { ...words.problems, unknown: wrong[key], invalid: wrong[key] } : words.problems,
      )}
      input={{ maxLength: 200 }}
    />
  );
  return (
    <FormDialog
      title={branch ? words.branches.changeOf(branch.name) : words.branches.add}
      send={send}
      onClose={onClose}
      done={words.branches.saved}
      texts={words.problems}
      readAgain={saved}
    >
      {(error) => (
        <>
          {ask(error, "name", words.branches.name)}
          {ask(error, "time_zone", words.branches.zone, words.branches.zoneHint)}
          {ask(error, "country", words.branches.country, words.branches.countryHint, true)}
          {ask(error, "start_at", words.branches.startAt, undefined, true)}
        </>
      )}
    </FormDialog>
  );
}
