import { api } from "../../api/client";
import { useRead } from "../../api/read";
import type { Load } from "../../api/types";
import { Bar } from "../../chart/bar";
import { usePackList } from "../../farm/packs";
import { farmWords } from "../../farm/words";
import { formats } from "../../i18n/format";
import { Page } from "../../shell/page";
import { isoOf, today } from "../../time/day";
import { DateField } from "../../ui/date-field";
import { Shown } from "../../ui/shown";
import { Table } from "../../ui/table";
import { BranchFilter, useBranches } from "./branches";
import { useFilters } from "./filters";
import { LoadDays } from "./load-days";
import { Outbreaks, People, ServiceLines } from "./load-service";
import { Lying } from "./lying";
import { managerWords } from "./words";

const fourWeeks = 28;

/** LoadPage shows whether the advisors can cope: tickets by day and branch, the rules' shares, and what was left lying. */
export function LoadPage() {
  const words = managerWords();
  const branches = useBranches();
  const [filters, set] = useFilters(["branch", "from", "to"]);
  const to = filters.to || isoOf(today());
  const from = filters.from || isoOf(today() - fourWeeks + 1);
  usePackList();
  const read = useRead(`load ${from} ${to} ${filters.branch}`, async (signal) => {
    const query = { from, to, ...(filters.branch ? { branch: filters.branch } : {}) };
    return (await api.get("/api/load", { query, signal })).body;
  });
  return (
    <Page title={words.load.title}>
      <p>{words.load.intro}</p>
      <div class="filters filters-of-days no-print">
        <DateField label={words.load.from} value={from} max={to} onValue={(day) => set({ from: day })} />
        <DateField label={words.load.to} value={to} min={from} onValue={(day) => set({ to: day })} />
        <BranchFilter branches={branches} value={filters.branch} onValue={(branch) => set({ branch })} />
      </div>
      <Shown read={read} texts={words.problems}>
        {(load) => <Whole load={load} />}
      </Shown>
    </Page>
  );
}

function Whole({ load }: { load: Load }) {
  const words = managerWords().load;
  return (
    <>
      <p>
        {words.totals(load.opened, load.reopened, load.settled)} {words.now(load.open, load.overdue)}
      </p>
      <ServiceLines service={load.service} />
      <Outbreaks />
      {load.days.length === 0 ? <p class="empty">{words.nothing}</p> : <LoadDays load={load} />}
      <Branches load={load} />
      <People people={load.people} />
      <div class="shares">
        <Rules rules={load.rules} />
        <Origins origins={load.origins} />
      </div>
      <Bursts load={load} />
      <Lying tickets={load.left_lying} />
    </>
  );
}

function Branches({ load }: { load: Load }) {
  const words = managerWords().load;
  const { number } = formats();
  const line = load.branches[0]?.line ?? 0;
  if (load.branches.length === 0) return null;
  return (
    <section class="explained" aria-label={words.branches}>
      <h2>{words.branches}</h2>
      <Table
        caption={words.lineWhy(line)}
        columns={[
          { key: "branch", head: words.branch, cell: (b) => b.branch },
          {
            key: "advisors",
            head: words.advisors,
            number: true,
            cell: (b) => (b.advisors === 0 ? words.noAdvisors : number(b.advisors)),
          },
          { key: "raised", head: words.raised, number: true, cell: (b) => number(b.raised) },
          { key: "mean", head: words.mean, number: true, cell: (b) => number(b.mean, 2) },
          {
            key: "worst",
            head: words.worst,
            number: true,
            cell: (b) => (b.worst_on ? words.worstOn(number(b.worst, 1), b.worst_on) : ""),
          },
          { key: "over", head: words.over(line), number: true, cell: (b) => number(b.over_days) },
        ]}
        rows={load.branches}
        keyOf={(b) => b.branch_id}
      />
    </section>
  );
}

function Rules({ rules }: { rules: Load["rules"] }) {
  const words = managerWords().load;
  const names: Record<string, string> = farmWords().rules;
  if (rules.length === 0) return null;
  return (
    <div class="captioned">
      <h2>{words.rules}</h2>
      <Table
        caption={words.rules}
        columns={[
          { key: "rule", head: words.rule, cell: (r) => names[r.rule] ?? r.rule },
          { key: "tickets", head: words.tickets, number: true, cell: (r) => formats().number(r.tickets) },
          { key: "share", head: words.share, cell: (r) => <Share share={r.share} /> },
        ]}
        rows={rules}
        keyOf={(r) => r.rule}
      />
    </div>
  );
}

function Share({ share }: { share: number }) {
  return (
    <span class="share">
      <Bar share={share} />
      {managerWords().load.percent(share)}
    </span>
  );
}

function Origins({ origins }: { origins: Load["origins"] }) {
  const words = managerWords().load;
  const all = origins.reduce((sum, o) => sum + o.tickets, 0);
  if (all === 0) return null;
  return (
    <div class="captioned">
      <h2>{words.origins}</h2>
      <Table
        caption={words.origins}
        columns={[
          { key: "origin", head: words.originHead, cell: (o) => words.origin[o.origin] ?? o.origin },
          { key: "tickets", head: words.tickets, number: true, cell: (o) => formats().number(o.tickets) },
          { key: "share", head: words.share, number: true, cell: (o) => words.percent(o.tickets / all) },
        ]}
        rows={origins}
        keyOf={(o) => o.origin}
      />
    </div>
  );
}

function Bursts({ load }: { load: Load }) {
  const words = managerWords().load;
  const { dateTime } = formats();
  const names: Record<string, string> = farmWords().rules;
  const branch = (id: string) => load.branches.find((b) => b.branch_id === id)?.branch ?? "";
  if (load.bursts.length === 0) return null;
  return (
    <section aria-label={words.bursts}>
      <h2>{words.bursts}</h2>
      <ul class="ruled">
        {load.bursts.map((burst) => (
          <li key={`${burst.branch_id} ${burst.from}`}>
            {words.burst(burst.tickets, branch(burst.branch_id), dateTime(burst.from), dateTime(burst.until))}
            <span class="minor">
              {burst.rules
                .map((r) => `${names[r.rule] ?? r.rule} ${formats().number(r.tickets)}`)
                .join(" · ")}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
