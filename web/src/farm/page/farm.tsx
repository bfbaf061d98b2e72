import { useEffect, useRef, useState } from "preact/hooks";
import { api } from "../../api/client";
import { useRead } from "../../api/read";
import type { FarmPage } from "../../api/types";
import { formats } from "../../i18n/format";
import { Standing } from "../../marks/marks";
import { Page } from "../../shell/page";
import type { PageProps } from "../../shell/page-list";
import { isoOf, today } from "../../time/day";
import { Shown } from "../../ui/shown";
import { usePacks } from "../packs";
import { keepNames } from "../people";
import { farmWords, type Standing as StandingName } from "../words";
import { FarmProvider } from "./context";
import { Doings, Facts, PartLinks } from "./head";
import { People } from "./people";
import { usePrintedWhole } from "./print";
import { Requests } from "./requests";
import { Snags } from "./snags";
import { Tickets } from "./tickets";
import { Timeline } from "./timeline";
import { Unit } from "./unit";
import { Promises, Visits } from "./visits";
import { pageWords } from "./words";
import "../notebook.css";
import "./farm.css";

// The sweep of a farm follows a change of it within a moment.
const sweepTakes = 2_500;

/** Farm is the page of one farm, for everyone of the firm. */
export function Farm({ params }: PageProps) {
  const id = params.id ?? "";
  const words = pageWords();
  const [times, setTimes] = useState(0);
  const read = useRead(`farm ${id}`, async (signal) => {
    const { body } = await api.get("/api/farms/{id}", { path: { id }, signal });
    keepNames(body.people.map((p) => ({ id: p.person_id, name: p.name })));
    setTimes((n) => n + 1);
    return body;
  });
  const later = useRef<ReturnType<typeof setTimeout>>();
  useEffect(() => () => clearTimeout(later.current), []);
  const changed = () => {
    void read.again();
    clearTimeout(later.current);
    later.current = setTimeout(() => void read.again(), sweepTakes);
  };
  usePacks(read.value?.units.map((u) => u.enterprise) ?? []);
  usePrintedWhole();
  const farm = read.value;
  return (
    <Page
      title={farm?.name ?? farmWords().farm}
      aside={farm?.standing && <Standing standing={farm.standing as StandingName} />}
    >
      <Shown read={read} texts={words.form.problems}>
        {(found) => (
          <FarmProvider value={{ farm: found, changed, times }}>
            <Parts farm={found} />
          </FarmProvider>
        )}
      </Shown>
    </Page>
  );
}

function Parts({ farm }: { farm: FarmPage }) {
  const words = pageWords();
  return (
    <>
      <Facts />
      <Doings />
      <PartLinks />
      <p class="only-print">{words.printedOn(isoOf(today(farm.branch.time_zone)))}</p>
      <div class="farm">
        <div class="farm-main">
          {farm.units.length === 0 && <p class="empty">{words.noUnits}</p>}
          {farm.units.map((unit) => (
            <Unit key={unit.id} unit={unit} />
          ))}
        </div>
        <div class="farm-side">
          <Tickets />
          <Visits />
          <Promises />
          <Requests />
          <People />
          <Snags />
          {farm.past_cycles.length > 0 && <Past farm={farm} />}
          <Timeline />
        </div>
      </div>
    </>
  );
}

function Past({ farm }: { farm: FarmPage }) {
  const words = pageWords();
  const units = new Map(farm.units.map((u) => [u.id, u.name]));
  return (
    <details class="past">
      <summary>{words.past(farm.past_cycles.length)}</summary>
      <ul class="ruled">
        {farm.past_cycles.map((c) => (
          <li key={c.id}>
            {units.get(c.unit_id)}: {formats().date(c.started_on)} – {formats().date(c.ended_on)}
          </li>
        ))}
      </ul>
    </details>
  );
}
