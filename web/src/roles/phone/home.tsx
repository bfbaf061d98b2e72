import { useEffect } from "preact/hooks";
import { useLocation } from "preact-iso";
import { needing } from "../../offline/outbox";
import { offerInstall, waitingInstall } from "../../shell/install";
import { bringInner } from "./behind";
import { Gate } from "./gate";
import type { Report, View } from "./overlay";
import { BigButton, Progress, Row, Rows, Well } from "./parts";
import { NamedPicture, Picture } from "./pictures";
import { tasksOf } from "./tasks";
import { walk } from "./walk";
import { phoneWords } from "./words";

/** Home is the caretaker's day: what can be said with one press, then what is open. */
export function Home() {
  walk.value = "/today";
  // While this page is read, the others come.
  useEffect(() => void bringInner().catch(() => undefined), []);
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

function ToDo({ farm }: { farm: View }) {
  const words = phoneWords();
  const tasks = tasksOf(farm);
  const open = tasks.filter((t) => !t.done);
  // The first button of the page is the daybook of today already.
  const rows = tasks.filter((t) => t.id !== "day");
  return (
    <>
      <h2>{words.todo.title}</h2>
      <Progress farm={farm} open={open.length} />
      {open.length > 1 && (
        <Rows>
          <Row href="/today/next" picture={<Picture of="step" />} title={words.todo.oneByOne} />
        </Rows>
      )}
      {rows.length > 0 ? (
        <Rows>
          {rows.map((t) => (
            <Row
              key={t.id}
              kind={t.done ? "done" : "plain"}
              href={t.href}
              picture={<NamedPicture of={t.picture} />}
              title={t.title}
              note={t.note}
            />
          ))}
        </Rows>
      ) : (
        <p>{words.todo.nothing}</p>
      )}
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
        <Row href="/today/missing" picture={<Picture of="book" />} title={words.daybook.missingTitle} />
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
