import { api } from "../../../api/client";
import { useRead } from "../../../api/read";
import type { Thread } from "../../../api/types";
import { namesOf } from "../../../farm/packs";
import type { Names } from "../../../farm/reason";
import { tellReasons } from "../../../farm/told";
import { formats } from "../../../i18n/format";
import { Media } from "../../../media/shown";
import { deskWords } from "../words";

/** Evidence says why the ticket is open: as it was when it was opened and as it is now, the call behind it, and how it ended. */
export function Evidence({
  ticket,
  enterprise,
  names,
}: {
  ticket: Thread;
  enterprise?: string;
  names: Names;
}) {
  const words = deskWords().ticket.evidence;
  const { date, list } = formats();
  const all = namesOf(enterprise, names);
  const same = JSON.stringify(ticket.first_reasons) === JSON.stringify(ticket.reasons);
  return (
    <section class="evidence" aria-label={words.title}>
      <h3>{words.title}</h3>
      {ticket.title && <p class="evidence-title">{ticket.title}</p>}
      {ticket.reasons.length === 0 && ticket.first_reasons.length === 0 && !ticket.call_id && (
        <p class="field-hint">{words.byHand}</p>
      )}
      {ticket.first_reasons.length > 0 && (
        <div class="then-now">
          <Reasons
            title={same ? words.firstAndLatest(ticket.opened_on) : words.first(ticket.opened_on)}
            reasons={ticket.first_reasons}
            names={all}
          />
          {!same && <Reasons title={words.latest} reasons={ticket.reasons} names={all} />}
        </div>
      )}
      <Media known={ticket.media ?? []} named={ticket.media_named ?? []} />
      {ticket.call_id && <CallBehind id={ticket.call_id} />}
      {ticket.gone_on && ticket.state !== "settled" && <p>{words.gone(ticket.gone_on)}</p>}
      {ticket.reopened.length > 0 && <p>{words.reopened(list(ticket.reopened.map(date)))}</p>}
      {ticket.state === "settled" && ticket.outcome !== "condition-gone" && (
        <p>
          <strong>{words.outcome}:</strong> {ticket.outcome}
        </p>
      )}
      {ticket.rests_until && ticket.state === "settled" && <p>{words.rests(ticket.rests_until)}</p>}
      {ticket.joined_into && (
        <p>
          {words.joined} <a href={`/desk?ticket=${ticket.joined_into}`}>{words.open}</a>
        </p>
      )}
    </section>
  );
}

function Reasons({ title, reasons, names }: { title: string; reasons: Thread["reasons"]; names: Names }) {
  const told = tellReasons(reasons, names);
  return (
    <div>
      <h4>{title}</h4>
      <ul>
        {[told.first, ...told.rest].filter(Boolean).map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
    </div>
  );
}

function CallBehind({ id }: { id: string }) {
  const words = deskWords().ticket.evidence;
  const call = useRead(
    `call ${id}`,
    async (signal) => (await api.get("/api/calls/{id}", { path: { id }, signal })).body,
  );
  if (!call.value) return null;
  return (
    <dl class="call-behind">
      <dt>{words.said}</dt>
      <dd>{call.value.said}</dd>
      {call.value.advice && (
        <>
          <dt>{words.advice}</dt>
          <dd>{call.value.advice}</dd>
        </>
      )}
    </dl>
  );
}
