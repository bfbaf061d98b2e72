import { useState } from "preact/hooks";
import { api } from "../../api/client";
import { useReadList } from "../../api/read";
import type { VisitLine } from "../../api/types";
import { usePackList } from "../../farm/packs";
import { VisitCard } from "../../farm/visits/visit";
import { formats } from "../../i18n/format";
import { Page } from "../../shell/page";
import { isoOf, today } from "../../time/day";
import { Button } from "../../ui/button";
import { More, Shown } from "../../ui/shown";
import { BranchFilter, useBranches } from "./branches";
import { daysOf } from "./days";
import { useFilters } from "./filters";
import { managerWords } from "./words";

const fourWeeks = 28;

/** Visits shows who goes where and when, by day and person, and the visits that nobody has reported yet. */
export function Visits() {
  const words = managerWords().visits;
  const branches = useBranches();
  const [{ branch }, set] = useFilters(["branch"]);
  const [over, setOver] = useState(false);
  const [times, setTimes] = useState(0);
  const now = today();
  const changed = () => setTimes((n) => n + 1);
  usePackList();
  const stretch = { branch, times, changed };
  return (
    <Page
      title={words.title}
      aside={
        <BranchFilter branches={branches} value={branch} onValue={(chosen) => set({ branch: chosen })} />
      }
    >
      <Stretch
        {...stretch}
        title={words.late}
        hint={words.lateHint}
        from={now - 60}
        to={now - 1}
        state="planned"
      />
      <Stretch
        {...stretch}
        title={words.ahead}
        from={now}
        to={now + fourWeeks - 1}
        state="planned"
        empty={words.none}
      />
      {over ? (
        <Stretch
          {...stretch}
          title={words.over}
          from={now - fourWeeks}
          to={now}
          empty={words.noneOver}
          newest
        />
      ) : (
        <Button onClick={() => setOver(true)}>{words.showOver}</Button>
      )}
    </Page>
  );
}

interface StretchProps {
  title: string;
  hint?: string;
  from: number;
  to: number;
  state?: "planned";
  branch: string;
  times: number;
  changed: () => void;
  /** What to say when there is none; without it the whole part is left out. */
  empty?: string;
  newest?: boolean;
}

function Stretch({ title, hint, from, to, state, branch, times, changed, empty, newest }: StretchProps) {
  const words = managerWords().visits;
  const list = useReadList<VisitLine>(
    `visits ${from} ${to} ${state} ${branch} ${times}`,
    async (cursor, signal) => {
      const query = {
        from: isoOf(from),
        to: isoOf(to),
        limit: 200,
        ...(state ? { state } : {}),
        ...(branch ? { branch } : {}),
        ...(cursor ? { cursor } : {}),
      };
      return (await api.get("/api/visits", { query, signal })).body;
    },
  );
  const visits = state ? list.value : list.value?.filter((v) => v.state !== "planned");
  if (visits?.length === 0 && !empty) return null;
  return (
    <section aria-label={title}>
      <h2>{title}</h2>
      {hint && <p class="minor">{hint}</p>}
      <Shown read={list}>
        {() =>
          visits?.length === 0 ? (
            <p class="empty">{empty}</p>
          ) : (
            <Days visits={visits ?? []} changed={changed} newest={newest ?? false} />
          )
        }
      </Shown>
      <More list={list} label={words.more} />
    </section>
  );
}

function Days({
  visits,
  changed,
  newest,
}: {
  visits: readonly VisitLine[];
  changed: () => void;
  newest: boolean;
}) {
  const words = managerWords().visits;
  const { date } = formats();
  const days = daysOf(visits);
  return (
    <ol class="days">
      {(newest ? [...days].reverse() : days).map((day) => (
        <li key={day.on}>
          <h3>{date(day.on)}</h3>
          <div class="officers">
            {day.officers.map(({ id, name, stops }) => (
              <section key={id} aria-label={`${name}, ${date(day.on)}`}>
                <p class="officer">
                  <strong>{name}</strong> <span class="minor-inline">{words.stops(stops.length)}</span>
                </p>
                <ul class="ruled">
                  {stops.map((visit) => (
                    <li key={visit.id}>
                      <VisitCard visit={visit} changed={changed} />
                    </li>
                  ))}
                </ul>
              </section>
            ))}
          </div>
        </li>
      ))}
    </ol>
  );
}
