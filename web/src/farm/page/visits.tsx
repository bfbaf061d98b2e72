import { useState } from "preact/hooks";
import { api } from "../../api/client";
import { useReadList } from "../../api/read";
import type { PromiseLine, VisitLine } from "../../api/types";
import { Button } from "../../ui/button";
import { More, Shown } from "../../ui/shown";
import { PlanVisit } from "../visits/plan";
import { planning, VisitCard } from "../visits/visit";
import { visitWords } from "../visits/words";
import { useFarm } from "./context";
import { pageWords } from "./words";

/** Visits are those of the farm, planned ones first, and the form that plans another. */
export function Visits() {
  const words = pageWords();
  const { farm, times, changed } = useFarm();
  const [asked, ask] = useState(false);
  const list = useReadList<VisitLine>(`visits ${farm.id} ${times}`, async (cursor, signal) => {
    const query = { farm: farm.id, limit: 50, ...(cursor ? { cursor } : {}) };
    return (await api.get("/api/visits", { query, signal })).body;
  });
  const enterprise = farm.units.length === 1 ? farm.units[0]?.enterprise : undefined;
  return (
    <section id="visits" aria-labelledby="visits-title">
      <h2 id="visits-title">{words.parts.visits}</h2>
      <Shown read={list}>
        {(visits) =>
          visits.length === 0 ? (
            <p class="empty">{words.visits.none}</p>
          ) : (
            <ul class="ruled">
              {[...visits].sort(plannedFirst).map((visit) => (
                <li key={visit.id}>
                  <VisitCard visit={visit} changed={changed} named={false} enterprise={enterprise} />
                </li>
              ))}
            </ul>
          )
        }
      </Shown>
      <More list={list} label={words.visits.more} />
      {planning() && <Button onClick={() => ask(true)}>{visitWords().plan}</Button>}
      {asked && (
        <PlanVisit
          goal={{ farmId: farm.id, farm: farm.name, branchId: farm.branch_id }}
          onClose={() => ask(false)}
          planned={changed}
        />
      )}
    </section>
  );
}

// Planned ones by day, then what is over, newest first.
function plannedFirst(a: VisitLine, b: VisitLine): number {
  const [open, other] = [a.state === "planned", b.state === "planned"];
  if (open !== other) return open ? -1 : 1;
  return open ? a.on.localeCompare(b.on) : b.on.localeCompare(a.on);
}

/** Promises are those made to the farm that are still to be kept. */
export function Promises() {
  const words = pageWords();
  const { farm, times } = useFarm();
  const list = useReadList<PromiseLine>(`promises ${farm.id} ${times}`, async (cursor, signal) => {
    const query = { farm: farm.id, limit: 50, ...(cursor ? { cursor } : {}) };
    return (await api.get("/api/promises", { query, signal })).body;
  });
  return (
    <section id="promises" aria-labelledby="promises-title">
      <h2 id="promises-title">{words.parts.promises}</h2>
      <Shown read={list}>
        {(promises) =>
          promises.length === 0 ? (
            <p class="empty">{words.promises.none}</p>
          ) : (
            <ul class="ruled">
              {promises.map((promise) => (
                <li key={promise.id}>
                  {promise.text}
                  <span class="minor">
                    {[words.promises.kinds[promise.kind], words.promises.due(promise.due_on), promise.maker]
                      .filter(Boolean)
                      .join(" · ")}
                  </span>
                </li>
              ))}
            </ul>
          )
        }
      </Shown>
      <More list={list} label={words.promises.more} />
    </section>
  );
}
