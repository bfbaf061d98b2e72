import { useEffect, useState } from "preact/hooks";
import { api } from "../../api/client";
import { type ReadList, useRead, useReadList } from "../../api/read";
import type { FarmRow, StandingCount } from "../../api/types";
import { said, usePackList } from "../../farm/packs";
import { farmWords } from "../../farm/words";
import { formats } from "../../i18n/format";
import { Peg } from "../../marks/marks";
import { Page } from "../../shell/page";
import { Button } from "../../ui/button";
import { TextField } from "../../ui/field";
import { More, Shown } from "../../ui/shown";
import { BranchFilter, useBranches } from "./branches";
import { countsBy, order } from "./counts";
import { FarmLines } from "./farm-lines";
import { filterNames, queryOf } from "./farm-query";
import { FilterSelect } from "./filter-select";
import { useFilters } from "./filters";
import { managerWords } from "./words";

/** Farms lists the firm's farms by standing, the worst first, with the strip, the slip and what holds them up. */
export function Farms() {
  const words = managerWords();
  const branches = useBranches();
  const [filters, set] = useFilters(filterNames);
  const counts = useRead(
    "counts",
    async (signal) => (await api.get("/api/farm-counts", { signal })).body.items,
  );
  const list = useReadList<FarmRow>(`farms ${JSON.stringify(filters)}`, async (cursor, signal) => {
    const query = { ...queryOf(filters), limit: 50, ...(cursor ? { cursor } : {}) };
    return (await api.get("/api/farms", { query, signal })).body;
  });
  const filtered = filterNames.some((name) => filters[name]);
  return (
    <Page title={words.farms.title}>
      <Shown read={counts}>
        {(items) => (
          <Counts
            counts={items}
            branch={filters.branch}
            chosen={filters.standing}
            choose={(standing) => set({ standing })}
          />
        )}
      </Shown>
      {/* biome-ignore lint/a11y/useSemanticElements: old browsers do not know <search> */}
      <form
        class="filters no-print"
        role="search"
        aria-label={words.filter.label}
        onSubmit={(event) => event.preventDefault()}
      >
        <Search value={filters.q} onValue={(q) => set({ q })} />
        <BranchFilter branches={branches} value={filters.branch} onValue={(branch) => set({ branch })} />
        <EnterpriseFilter value={filters.enterprise} onValue={(enterprise) => set({ enterprise })} />
        <FilterSelect
          label={words.filter.watched}
          all={words.filter.watchedAll}
          value={filters.watched}
          onValue={(watched) => set({ watched })}
          options={[
            { value: "yes", label: words.filter.watchedYes },
            { value: "no", label: words.filter.watchedNo },
          ]}
        />
      </form>
      <Listed list={list} />
      {list.value?.length === 0 && filtered && (
        <Button onClick={() => set({ standing: "", branch: "", enterprise: "", watched: "", q: "" })}>
          {words.filter.clear}
        </Button>
      )}
    </Page>
  );
}

function Listed({ list }: { list: ReadList<FarmRow> }) {
  const words = managerWords();
  return (
    <>
      <Shown read={list}>
        {(farms) =>
          farms.length === 0 ? (
            <p class="empty" role="status">
              {words.filter.none}
            </p>
          ) : (
            <>
              <p class="minor" role="status">
                {words.farms.shown(farms.length)}
              </p>
              <FarmLines farms={farms} />
            </>
          )
        }
      </Shown>
      <More list={list} label={words.farms.more} />
    </>
  );
}

function Counts({
  counts,
  branch,
  chosen,
  choose,
}: {
  counts: readonly StandingCount[];
  branch: string;
  chosen: string;
  choose: (standing: string) => void;
}) {
  const words = managerWords().farms;
  const { number } = formats();
  const by = countsBy(counts, branch);
  const all = [...by.values()].reduce((sum, n) => sum + n, 0);
  return (
    <fieldset class="counts" aria-label={words.counts}>
      <button type="button" class="count" aria-pressed={chosen === ""} onClick={() => choose("")}>
        <span>{words.all}</span> <strong>{number(all)}</strong>
      </button>
      {order.map((standing) => (
        <button
          key={standing}
          type="button"
          class="count"
          aria-pressed={chosen === standing}
          onClick={() => choose(chosen === standing ? "" : standing)}
        >
          <Peg standing={standing} />
          <span>{farmWords().standing[standing]}</span> <strong>{number(by.get(standing) ?? 0)}</strong>
        </button>
      ))}
    </fieldset>
  );
}

// A search is asked for when the typing rests, so that not every letter asks.
const rest = 300;

function Search({ value, onValue }: { value: string; onValue: (q: string) => void }) {
  const words = managerWords().filter;
  const [typed, setTyped] = useState(value);
  useEffect(() => setTyped(value), [value]);
  useEffect(() => {
    if (typed.trim() === value) return;
    const timer = setTimeout(() => onValue(typed.trim()), rest);
    return () => clearTimeout(timer);
  }, [typed]);
  return (
    <TextField
      label={words.search}
      hint={words.searchHint}
      value={typed}
      onValue={setTyped}
      type="search"
      input={{ maxLength: 200, autoComplete: "off" }}
    />
  );
}

/** EnterpriseFilter chooses one enterprise, or all. */
export function EnterpriseFilter({ value, onValue }: { value: string; onValue: (value: string) => void }) {
  const words = managerWords().filter;
  const packs = usePackList();
  if (packs.length < 2) return null;
  return (
    <FilterSelect
      label={words.enterprise}
      all={words.allEnterprises}
      value={value}
      onValue={onValue}
      options={packs.map((p) => ({ value: p.enterprise, label: said(p.name) }))}
    />
  );
}
