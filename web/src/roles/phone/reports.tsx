import { useState } from "preact/hooks";
import { formats } from "../../i18n/format";
import { keep as keepEntry } from "../../offline/outbox";
import type { PageProps } from "../../shell/page-list";
import { TextArea } from "../../ui/field";
import { Trouble } from "../../ui/states";
import { Gate } from "./gate";
import type { Report, View } from "./overlay";
import { BigButton, CallLinks, Row, Rows, useFields, useKeeping } from "./parts";
import { Picture } from "./pictures";
import { SignPicture } from "./signs";
import { phoneWords } from "./words";

/** Reports are what this caretaker reported and what became of it. */
export function Reports() {
  const words = phoneWords().reports;
  return (
    <Gate title={words.title}>
      {(farm) => (
        <>
          {farm.reports.length === 0 && <p>{words.none}</p>}
          <Rows>
            {farm.reports.map((r) => (
              <Row
                key={r.id}
                kind={r.state === "settled" ? "done" : "plain"}
                href={`/today/report/${r.id}`}
                picture={r.sign ? <SignPicture sign={r.sign} /> : <Picture of="reports" />}
                title={r.text}
                note={[r.number && words.number(r.number), stateOf(r)].filter(Boolean).join(", ")}
              />
            ))}
          </Rows>
        </>
      )}
    </Gate>
  );
}

/** stateOf says in words how far a report is. */
export function stateOf(report: Report): string {
  const words = phoneWords().reports;
  if (report.entry?.state === "kept") return words.notSent;
  if (report.settled_on) return words.settled(report.settled_on);
  const waits = report.waiting_on ? words.waitingOn[report.waiting_on] : undefined;
  const state = waits ?? words.state[report.state] ?? report.state;
  return report.holder ? `${state}, ${words.inHands(report.holder)}` : state;
}

/** OneReport is a report with the words that went to and fro. */
export function OneReport({ params: { id } }: PageProps) {
  const words = phoneWords().reports;
  const found = (farm: View) => farm.reports.find((r) => r.id === id);
  const title = (farm: View) => {
    const number = found(farm)?.number;
    return number ? words.number(number) : words.noNumber;
  };
  return (
    <Gate title={title} back="/today/reports">
      {(farm) => {
        const report = found(farm);
        return report ? <Thread farm={farm} report={report} /> : <p>{words.gone}</p>;
      }}
    </Gate>
  );
}

function Thread({ farm, report }: { farm: View; report: Report }) {
  const words = phoneWords();
  return (
    <>
      <p class="phone-ask">{report.text}</p>
      <p>{stateOf(report)}</p>
      <p>{words.reports.opened(report.opened_at, farm.time_zone)}</p>
      {!report.entry && <p>{sightOf(farm, report)}</p>}
      {report.entry?.state === "kept" && (
        <p class="phone-state" role="status">
          {words.sign.notSent}
        </p>
      )}
      <Messages farm={farm} report={report} />
      {!report.entry && report.state !== "settled" && <Reply report={report} />}
      <CallLinks farm={farm} />
    </>
  );
}

function sightOf(farm: View, { seen_by, seen_at }: Report): string {
  const words = phoneWords().reports;
  return seen_by && seen_at ? words.saw(seen_by, seen_at, farm.time_zone) : words.nobody;
}

function Messages({ farm, report }: { farm: View; report: Report }) {
  const words = phoneWords().reports;
  const { dateTime } = formats();
  if (report.messages.length === 0) return null;
  return (
    <>
      <h2>{words.messages}</h2>
      <ul class="phone-messages">
        {report.messages.map((m) => (
          <li key={m.id} class={m.mine ? "phone-mine" : undefined}>
            <p class="phone-note">
              {m.mine ? words.you : m.from}, {dateTime(m.at, farm.time_zone)}
            </p>
            <p>{m.text}</p>
          </li>
        ))}
      </ul>
    </>
  );
}

function Reply({ report }: { report: Report }) {
  const words = phoneWords().reports;
  const [text, setText] = useState("");
  const { busy, error, keep } = useKeeping();
  const { box, needed, complete } = useFields();
  const empty = text.trim() === "";
  const send = () =>
    complete(!empty) &&
    keep(
      () =>
        keepEntry({
          path: `/api/tickets/${report.id}/say`,
          body: { text: text.trim() },
          what: words.whatSaid(report.number),
        }),
      () => setText(""),
    );
  return (
    <div ref={box}>
      {error !== null && <Trouble error={error} />}
      <TextArea
        label={words.write}
        value={text}
        onValue={setText}
        maxLength={1000}
        optional
        error={needed(empty)}
      />
      <BigButton busy={busy} picture={<Picture of="sent" />} onClick={send}>
        {words.send}
      </BigButton>
    </div>
  );
}
