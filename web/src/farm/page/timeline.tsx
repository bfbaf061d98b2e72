import { api } from "../../api/client";
import { useReadList } from "../../api/read";
import type { Event } from "../../api/types";
import { formats } from "../../i18n/format";
import { Media, namedIn } from "../../media/shown";
import { More, Shown } from "../../ui/shown";
import { fieldOf, namesOf } from "../packs";
import { personName, usePeople } from "../people";
import { useFarm } from "./context";
import { happenedOf } from "./event-words";
import { pageWords } from "./words";

/** Timeline is what was reported about the farm, newest first. */
export function Timeline() {
  const words = pageWords();
  const { farm, times } = useFarm();
  const list = useReadList<Event>(`events ${farm.id} ${times}`, async (cursor, signal) => {
    const query = { limit: 30, ...(cursor ? { cursor } : {}) };
    return (await api.get("/api/farms/{id}/events", { path: { id: farm.id }, query, signal })).body;
  });
  usePeople(list.value?.map((e) => e.person_id) ?? []);
  return (
    <section id="timeline" aria-labelledby="timeline-title">
      <h2 id="timeline-title">{words.parts.timeline}</h2>
      <Shown read={list}>
        {(events) =>
          events.length === 0 ? (
            <p class="empty">{words.timeline.none}</p>
          ) : (
            <ol class="timeline">
              {events.map((event) => (
                <EventLine key={event.id} event={event} />
              ))}
            </ol>
          )
        }
      </Shown>
      <More list={list} label={words.timeline.more} />
    </section>
  );
}

function EventLine({ event }: { event: Event }) {
  const words = pageWords().timeline;
  const { farm } = useFarm();
  const unit = farm.units.find((u) => u.id === event.unit_id || u.cycle?.id === event.cycle_id);
  const happened = happenedOf(event, {
    names: namesOf(unit?.enterprise),
    field: (key) => fieldOf(unit?.enterprise, key),
    people: farm.people,
    snags: farm.snags,
  });
  const told = [
    farm.units.length > 1 ? unit?.name : "",
    ...happened.more,
    personName(event.person_id) || farm.people.find((p) => p.person_id === event.person_id)?.name,
    lateWords(event, farm.branch.time_zone),
    event.clock_off ? words.clockOff : "",
    event.replaces ? words.replaced : "",
  ];
  return (
    <li>
      <span class="timeline-on">{formats().date(event.on)}</span>
      <div>
        {happened.what}
        <span class="minor">{told.filter(Boolean).join(" · ")}</span>
        <Media known={event.media ?? []} named={namedIn(event.data)} />
      </div>
    </li>
  );
}

// When it was written down is news only where that was on another day.
function lateWords(event: Event, zone: string): string {
  const recorded = formats().dateTime(event.recorded_at, zone);
  return recorded.startsWith(formats().date(event.on)) ? "" : pageWords().timeline.recorded(recorded);
}
