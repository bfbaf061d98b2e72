import { useState } from "preact/hooks";
import { api } from "../../api/client";
import { useReadList } from "../../api/read";
import { person } from "../../api/session";
import type { VisitLine } from "../../api/types";
import { usePackList } from "../../farm/packs";
import { VisitCard } from "../../farm/visits/visit";
import { Page } from "../../shell/page";
import type { PageEntry } from "../../shell/page-list";
import { isoOf, today } from "../../time/day";
import { More, Shown } from "../../ui/shown";
import { roundWords } from "./words";

const weeks = 14;

/** Round is an officer's visits: today's first, then those not reported, then the next days. */
function Round() {
  const words = roundWords();
  const [times, setTimes] = useState(0);
  const now = today();
  usePackList();
  const part = { times, changed: () => setTimes((n) => n + 1) };
  return (
    <Page title={words.title}>
      <p>{words.dark}</p>
      <Stops {...part} title={words.today(isoOf(now))} from={now} to={now} empty={words.none} />
      <Stops {...part} title={words.late} hint={words.lateHint} from={now - 60} to={now - 1} />
      <Stops {...part} title={words.ahead} from={now + 1} to={now + weeks} />
    </Page>
  );
}

interface StopsProps {
  title: string;
  hint?: string;
  from: number;
  to: number;
  times: number;
  changed: () => void;
  /** What to say when there is none; without it the part is left out. */
  empty?: string;
}

function Stops({ title, hint, from, to, times, changed, empty }: StopsProps) {
  const words = roundWords();
  const officer = person.value?.id ?? "";
  const list = useReadList<VisitLine>(`round ${officer} ${from} ${to} ${times}`, async (cursor, signal) => {
    const query = {
      officer,
      from: isoOf(from),
      to: isoOf(to),
      state: "planned" as const,
      ...(cursor ? { cursor } : {}),
    };
    return (await api.get("/api/visits", { query, signal })).body;
  });
  if (list.value?.length === 0 && !empty) return null;
  return (
    <section aria-label={title}>
      <h2>{title}</h2>
      {hint && <p>{hint}</p>}
      <Shown read={list}>
        {(visits) =>
          visits.length === 0 ? (
            <p class="empty">{empty}</p>
          ) : (
            <ol class="ruled">
              {visits.map((visit) => (
                <li key={visit.id}>
                  <VisitCard visit={visit} changed={changed} />
                  <a href={`/farms/${visit.farm_id}`}>{words.farm}</a>
                </li>
              ))}
            </ol>
          )
        }
      </Shown>
      <More list={list} label={words.more} />
    </section>
  );
}

/** The pages of this role; the first is its home. */
export const pages: readonly PageEntry[] = [{ path: "/round", view: Round, nav: () => roundWords().title }];
