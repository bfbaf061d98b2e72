import type { Thread } from "../../../api/types";
import { farmWords } from "../../../farm/words";
import { formats } from "../../../i18n/format";
import { FirmNote } from "../../../marks/marks";
import { staffName, zoneOf } from "../firm";
import { deskWords } from "../words";
import { tellEvent } from "./say-event";

/** EventLine is one line of a thread. What the farm never reads stands apart as look.md says. */
export function EventLine({
  event,
  ticket,
  nameOf,
}: {
  event: Thread["events"][number];
  ticket: Thread;
  nameOf: (id: string) => string;
}) {
  const words = deskWords().ticket.thread;
  const zone = zoneOf(ticket.branch_id);
  const { dateTime } = formats();
  const told = tellEvent(event, {
    words,
    firm: farmWords(),
    origin: ticket.origin,
    nameOf,
    isStaff: (id) => staffName(id) !== "",
    timeOf: (at) => dateTime(at, zone),
  });
  return (
    <li class="event">
      <p class="event-what">
        {told.what} <time dateTime={event.at}>{dateTime(event.at, zone)}</time>
      </p>
      {told.reach === "inside" && (
        <FirmNote>
          <Lines text={told.text} />
        </FirmNote>
      )}
      {(told.reach === "to-farm" || told.reach === "from-farm") && (
        <blockquote class="event-said">
          <Lines text={told.text} />
          <span class="field-hint">{told.reach === "to-farm" ? words.toFarm : words.fromFarm}</span>
        </blockquote>
      )}
    </li>
  );
}

function Lines({ text }: { text: string }) {
  return (
    <>
      {text.split("\n").map((line, i) => (
        <p key={i}>{line}</p>
      ))}
    </>
  );
}
