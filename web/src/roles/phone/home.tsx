import { useLocation } from "preact-iso";
import { needing } from "../../offline/outbox";
import { offerInstall, waitingInstall } from "../../shell/install";
import { Trouble } from "../../ui/states";
import { say } from "./entry";
import { Gate } from "./gate";
import type { Report, View } from "./overlay";
import { BigButton, Row, Rows, useKeeping } from "./parts";
import { Picture } from "./pictures";
import { phoneWords } from "./words";

/** Home is the caretaker's day: what can be said with one press, then what is open. */
export function Home() {
  return (
    <Gate title={phoneWords().title} home>
      {(farm) => (
        <>
          <Now farm={farm} />
          <ToDo farm={farm} />
          <More farm={farm} />
        </>
      )}
    </Gate>
  );
}

function Now({ farm }: { farm: View }) {
  const words = phoneWords();
  return (
    <>
      <Well farm={farm} />
      <Rows>
        <Row
          kind="danger"
          href="/today/trouble"
          picture={<Picture of="trouble" />}
          title={words.trouble.title}
        />
        <Row
          href="/today/help"
          picture={<Picture of="call" />}
          title={words.help.title}
          note={promised(farm)}
        />
        <Row href="/today/daybook" picture={<Picture of="book" />} title={words.daybook.title} />
        {!farm.written_on.includes(farm.on) && (
          <Row href="/today/could-not" picture={<Picture of="cannot" />} title={words.couldNot.title} />
        )}
        {needing.value > 0 && (
          <Row
            kind="danger"
            href="/today/sent"
            picture={<Picture of="sent" />}
            title={words.sent.needs(needing.value)}
          />
        )}
      </Rows>
    </>
  );
}

function promised(farm: View): string | undefined {
  const words = phoneWords().help;
  const call = farm.promises.find((p) => p.kind === "call-back");
  if (!call) return undefined;
  if (!call.due_on) return words.asked;
  return call.due_on < farm.on ? words.overdue(call.due_on) : words.promised(call.due_on);
}

function Well({ farm }: { farm: View }) {
  const words = phoneWords();
  const { busy, error, keep } = useKeeping();
  if (farm.written_on.includes(farm.on)) {
    return (
      <p class="phone-kept">
        <Picture of="well" /> {words.well.kept}
      </p>
    );
  }
  const well = () =>
    keep(() => say({ farm, kind: "day", data: { all_well: true }, what: words.daybook.whatWell(farm.on) }));
  return (
    <>
      {error !== null && <Trouble error={error} />}
      <BigButton kind="main" busy={busy} picture={<Picture of="well" />} onClick={well}>
        {farm.stocked ? words.well.stocked : words.well.empty}
      </BigButton>
    </>
  );
}

function ToDo({ farm }: { farm: View }) {
  const words = phoneWords();
  const units = farm.units.filter((u) => u.cycle_id);
  const named = (unit: string, text = "") =>
    units.length > 1 ? [unit, text].filter(Boolean).join(". ") : text;
  const open = farm.modules.filter((m) => !m.read_on).length;
  const waits = farm.modules.length - open;
  const rows = [
    farm.missing_days.length > 0 && (
      <Row
        key="missing"
        href="/today/missing"
        picture={<Picture of="book" />}
        title={words.daybook.missingDays(farm.missing_days.length)}
      />
    ),
    ...units.flatMap((u) => [
      ...(u.milestones ?? []).map((m) => (
        <Row
          key={`${u.id} ${m.key}`}
          href={`/today/milestone/${u.cycle_id}/${m.key}`}
          picture={<Picture of="step" />}
          title={m.name}
          note={named(u.name, words.milestone.nextStep)}
        />
      )),
      u.reading && (
        <Row
          key={`${u.id} reading`}
          href={`/today/reading/${u.cycle_id}`}
          picture={<Picture of={u.reading === "cover" ? "leaf" : "weigh"} />}
          title={u.reading === "cover" ? words.reading.cover : words.reading.weight}
          note={named(u.name)}
        />
      ),
      ...(u.checklists ?? []).map((list) => (
        <Row
          key={`${u.id} ${list.key}`}
          href={`/today/list/${u.cycle_id}/${list.key}`}
          picture={<Picture of="list" />}
          title={list.name}
          note={named(u.name, words.todo.list(list.items.filter((i) => !i.mark).length, list.items.length))}
        />
      )),
    ]),
    farm.modules.length > 0 && (
      <Row
        key="modules"
        href="/today/modules"
        picture={<Picture of="learn" />}
        title={words.module.title}
        note={[open > 0 && words.module.open(open), waits > 0 && words.module.waits(waits)]
          .filter(Boolean)
          .join(", ")}
      />
    ),
  ].filter(Boolean);
  return (
    <>
      <h2>{words.todo.title}</h2>
      {rows.length > 0 ? <Rows>{rows}</Rows> : <p>{words.todo.nothing}</p>}
    </>
  );
}

function More({ farm }: { farm: View }) {
  const words = phoneWords();
  const { route } = useLocation();
  const planned = farm.units.filter((u) => u.strip);
  return (
    <>
      <h2>{farm.name}</h2>
      <Rows>
        <Row
          href="/today/reports"
          picture={<Picture of="reports" />}
          title={words.reports.title}
          note={latest(farm.reports[0])}
        />
        {planned.map((u) => (
          <Row
            key={u.id}
            href={`/today/plan/${u.cycle_id}`}
            picture={<Picture of="plan" />}
            title={words.plan.title}
            {...(planned.length > 1 ? { note: u.name } : {})}
          />
        ))}
        <Row href="/today/cards" picture={<Picture of="ill" />} title={words.sign.cards} />
        <Row href="/today/sent" picture={<Picture of="sent" />} title={words.sent.title} />
      </Rows>
      {waitingInstall.value && (
        <BigButton onClick={() => void offerInstall().then(() => route("/today"))}>
          {words.install}
          <span class="phone-note">{words.installCost}</span>
        </BigButton>
      )}
    </>
  );
}

function latest(report: Report | undefined): string | undefined {
  const words = phoneWords().reports;
  if (!report) return undefined;
  if (report.entry?.state === "kept") return `${report.text}: ${words.notSent}`;
  return `${report.text}: ${words.state[report.state] ?? report.state}`;
}
