import { useState } from "preact/hooks";
import { api } from "../../api/client";
import { useRead } from "../../api/read";
import type { Band, FishPoint, ProjectionPage, ProjectionPoint } from "../../api/types";
import { Fan } from "../../chart/fan";
import { formats } from "../../i18n/format";
import { Page } from "../../shell/page";
import type { PageProps } from "../../shell/page-list";
import { parseDay } from "../../time/day";
import { Shown } from "../../ui/shown";
import { Table } from "../../ui/table";
import { How } from "./how";
import { plan, type Query, WhatIf } from "./what-if";
import { projectionWords } from "./words";
import "./projection.css";

/** Projection is what one unit will hold, eat and have for sale, as a band with what it rests on. */
export function Projection({ params, back }: PageProps & { back?: string }) {
  const { id: farm = "", unit = "" } = params;
  const words = projectionWords();
  const [query, setQuery] = useState<Query>(plan);
  const read = useRead(`projection ${unit} ${JSON.stringify(query)}`, async (signal) => {
    const { body } = await api.get("/api/units/{id}/projection", { path: { id: unit }, query, signal });
    return body;
  });
  return (
    <Page title={words.title(read.value?.unit ?? "")} back={back ?? `/farms/${encodeURIComponent(farm)}`}>
      <Shown read={read} texts={words.problems}>
        {(found) => (found.why ? <p>{words.why[found.why]}</p> : <Body found={found} ask={setQuery} />)}
      </Shown>
    </Page>
  );
}

function Body({ found, ask }: { found: ProjectionPage; ask: (query: Query) => void }) {
  const words = projectionWords();
  const { assumed } = found;
  const { learned } = found.breeding ?? found.growing ?? {};
  return (
    <>
      <p class="minor">{found.farm}</p>
      <p>{words.caution}</p>
      {assumed.changed && <p class="projection-if">{words.whatIf.changed}</p>}
      <Advice found={found} />
      {found.breeding && <Snails found={found} points={found.breeding.points} />}
      {found.growing && <Tank found={found} points={found.growing.points} />}
      {found.breeding && (
        <p class="minor">{words.whatIf.assumed(assumed.market_g, assumed.every_days, assumed.parents)}</p>
      )}
      {learned && (
        <p class="minor">
          {learned.used ? words.learned(learned.effective) : words.unlearned}
          {learned.tempered < 0.995 && ` ${words.tempered(learned.tempered)}`}
        </p>
      )}
      {found.bare && <Bare bare={found.bare} />}
      {found.breeding && <WhatIf found={found} ask={ask} />}
      <How found={found} />
    </>
  );
}

function Advice({ found }: { found: ProjectionPage }) {
  const words = projectionWords();
  return (
    <>
      <ul class="projection-advice">
        {found.advice.map((reason, i) => {
          const values = reason.values ?? {};
          const say = words.advice[reason.code];
          const n = (key: string) => Number(values[key] ?? 0);
          const s = (key: string) => String(values[key] ?? "");
          return <li key={`${reason.code}-${i}`}>{say ? say({ n, s }) : reason.code}</li>;
        })}
      </ul>
      {found.advice.some((r) => r.code === "count-asks") && <p>{words.countHelp}</p>}
    </>
  );
}

/** said puts a band in one cell: the likely value, and the band behind it. */
export function said(band: Band, digits = 0): string {
  const { number } = formats();
  const shown = band.likely >= 100 ? 0 : digits; // nobody weighs half a ton to the gram
  return `${number(band.likely, shown)} (${number(band.low, shown)}–${number(band.high, shown)})`;
}

const dot = (on: string, band: Band) => ({ on: parseDay(on) ?? 0, ...band });

function Snails({ found, points }: { found: ProjectionPage; points: readonly ProjectionPoint[] }) {
  const words = projectionWords();
  const carries = capacityOf(found);
  const market = found.assumed.market_g;
  const { date } = formats();
  const month = { key: "on", head: words.month, cell: (p: ProjectionPoint) => date(p.on) };
  const column = (key: string, head: string, of: (p: ProjectionPoint) => Band, digits = 0) => ({
    key,
    head,
    number: true,
    cell: (p: ProjectionPoint) => said(of(p), digits),
  });
  return (
    <>
      <Density found={found} points={points} carries={carries} />
      <section aria-labelledby="ahead-saleable">
        <h2 id="ahead-saleable">{words.saleable(market)}</h2>
        <Fan label={words.saleable(market)} dots={points.map((p) => dot(p.on, p.saleable))} />
        <p class="minor">{words.bandHint}</p>
        <Table
          caption={words.perMonth}
          columns={[
            month,
            column("animals", words.animals, (p) => p.animals),
            column("adults", words.adults, (p) => p.adults),
            column("saleable", words.saleable(market), (p) => p.saleable),
            column("sold", words.sold, (p) => p.sold),
            column("sold-kg", words.soldKg, (p) => p.sold_kg, 1),
            column("kg", words.kg, (p) => p.kg, 1),
          ]}
          rows={points}
          keyOf={(p) => p.on}
        />
      </section>
      <section aria-labelledby="ahead-feed">
        <h2 id="ahead-feed">{words.feed.title}</h2>
        <p>{words.feed.hint}</p>
        <Table
          caption={words.feed.table}
          columns={[
            month,
            column("fresh", words.feed.fresh, (p) => p.fresh_kg_week, 1),
            column("dry", words.feed.dry, (p) => p.dry_kg_week, 1),
            column("calcium", words.feed.calcium, (p) => p.calcium_kg_week, 2),
          ]}
          rows={points.slice(0, 6)}
          keyOf={(p) => p.on}
        />
      </section>
    </>
  );
}

/** capacityOf is what a square metre carries by the figures, undefined where they are not shown. */
function capacityOf(found: ProjectionPage): number | undefined {
  return found.inputs.find((i) => i.key === "capacity_kg_m2")?.likely;
}

function Density({
  found,
  points,
  carries,
}: {
  found: ProjectionPage;
  points: readonly ProjectionPoint[];
  carries: number | undefined;
}) {
  const words = projectionWords();
  const { number } = formats();
  const now = points[0];
  if (!now) return null;
  const x = now.crowding.likely;
  const word = x > 1 ? "crowded" : x > 0.8 ? "tight" : x > 0.4 ? "good" : "roomy";
  const limit = carries === undefined ? {} : { limit: carries * found.area_m2, limitWords: words.carries };
  return (
    <section aria-labelledby="ahead-room">
      <h2 id="ahead-room">{words.density.title}</h2>
      <p>
        {words.density.words[word]}{" "}
        {carries !== undefined &&
          words.density.now(number(now.kg.likely / found.area_m2, 2), number(carries, 2))}
      </p>
      <Fan label={words.kg} dots={points.map((p) => dot(p.on, p.kg))} {...limit} />
    </section>
  );
}

function Tank({ found, points }: { found: ProjectionPage; points: readonly FishPoint[] }) {
  const words = projectionWords();
  const { date } = formats();
  const tank = found.growing;
  const last = points[points.length - 1];
  if (!tank || !last) return null;
  const feed = tank.feed_kg_4_weeks;
  const ready = points.find((p) => tank.ready_likely !== null && p.on >= tank.ready_likely) ?? last;
  const shown = points.slice(0, points.indexOf(ready) + 9);
  return (
    <>
      <section aria-labelledby="ahead-order">
        <h2 id="ahead-order">{words.feed.fish}</h2>
        <p>{words.feed.order(feed.low, feed.likely, feed.high)}</p>
      </section>
      <section aria-labelledby="ahead-weight">
        <h2 id="ahead-weight">{words.meanG}</h2>
        <Fan
          label={words.meanG}
          dots={shown.map((p) => dot(p.on, p.mean_g))}
          limit={found.assumed.market_g}
          limitWords={words.saleable(found.assumed.market_g)}
        />
        <p class="minor">{words.bandHint}</p>
        <p>{words.fcr(tank.fcr.low, tank.fcr.likely, tank.fcr.high)}</p>
        <Table
          caption={words.perWeek}
          columns={[
            { key: "on", head: words.week, cell: (p) => date(p.on) },
            { key: "fish", head: words.fish, number: true, cell: (p) => said(p.fish) },
            { key: "g", head: words.meanG, number: true, cell: (p) => said(p.mean_g) },
            { key: "kg", head: words.kg, number: true, cell: (p) => said(p.kg, 1) },
            { key: "feed", head: words.feed.kg, number: true, cell: (p) => said(p.feed_kg, 1) },
          ]}
          rows={shown}
          keyOf={(p) => p.on}
        />
      </section>
      <section aria-labelledby="ahead-classes">
        <h2 id="ahead-classes">
          {words.classes}, {date(ready.on)}
        </h2>
        <Table
          caption={words.classes}
          columns={[
            { key: "class", head: words.class, cell: (c) => className(c.from_g, c.to_g) },
            { key: "fish", head: words.fish, number: true, cell: (c) => said(c.fish) },
            { key: "kg", head: words.kg, number: true, cell: (c) => said(c.kg, 1) },
          ]}
          rows={ready.classes}
          keyOf={(c) => `${c.from_g}`}
        />
      </section>
    </>
  );
}

function className(from: number, to: number): string {
  const words = projectionWords();
  if (from === 0) return words.classTo(to);
  return to === 0 ? words.classFrom(from) : words.classBetween(from, to);
}

function Bare({ bare }: { bare: NonNullable<ProjectionPage["bare"]> }) {
  const words = projectionWords().bare;
  return (
    <section aria-labelledby="ahead-bare">
      <h2 id="ahead-bare">{words.title}</h2>
      <p>{words.sum(bare.adults, bare.layings, bare.eggs, bare.animals)}</p>
      <p>
        {words.room(bare.room.low, bare.room.high, bare.market_g)} {bare.reason === "floor" && words.floor}
      </p>
      <p class="minor">
        {words.published(bare.eggs_year.low, bare.eggs_year.high)} {words.unsourced}
      </p>
    </section>
  );
}
