import { useRef } from "preact/hooks";
import { useLocation } from "preact-iso";
import { api } from "../../../api/client";
import { useRead } from "../../../api/read";
import { person } from "../../../api/session";
import { farmWords } from "../../../farm/words";
import { HeldList } from "../../../ui/held-list";
import { Shown } from "../../../ui/shown";
import { Empty } from "../../../ui/states";
import { useAgain, useNow } from "../clock";
import { DeskPage } from "../desk-page";
import { firm, zoneOf } from "../firm";
import { useLive } from "../live";
import { Notices } from "../notices";
import { useRows } from "../rows";
import { TicketPane } from "../ticket/pane";
import { ViewsNav } from "../views-nav";
import { deskWords } from "../words";
import { Row } from "./row";
import { most, queryOf, type View, viewOf, views } from "./views";

/** Queue is the desk's first page: the tickets of a view, and the chosen one beside them. */
export function Queue() {
  const { query } = useLocation();
  const view = viewOf(query.view);
  const branch = query.branch ?? "";
  const chosen = query.ticket;
  const list = useRead(`${view} ${branch}`, async (signal) => {
    const asked = queryOf(view, branch, new Date(), homeZone());
    return (await api.get("/api/tickets", { query: asked, signal })).body;
  });
  useAgain(list.again);
  useLive((news) => news.kind === "changed" && void list.again());
  const words = deskWords().queue;
  return (
    <DeskPage title={words.title} aside={view !== "mine" && <Branches view={view} branch={branch} />}>
      <div class="bench">
        <section class="bench-list" aria-label={words.list}>
          <Views view={view} branch={branch} />
          <Shown read={list}>
            {({ items, next }) => (
              <>
                <Rows key={`${view} ${branch}`} view={view} branch={branch} items={items} chosen={chosen} />
                {next && <p class="field-hint">{words.full(most)}</p>}
              </>
            )}
          </Shown>
          <Notices />
        </section>
        <TicketPane id={chosen} key={chosen} changed={() => void list.again()} />
      </div>
    </DeskPage>
  );
}

/** hrefOf is the address of a view with a ticket beside it. */
export function hrefOf(view: View, branch: string, ticket?: string): string {
  const query = new URLSearchParams({ view, ...(branch ? { branch } : {}), ...(ticket ? { ticket } : {}) });
  return `/desk?${query}`;
}

// The zone by which "today" ends: that of the advisor's own branch, if it is one.
function homeZone(): string | undefined {
  const own = new Set(person.peek()?.grants.map((g) => g.branch_id));
  return own.size === 1 ? zoneOf([...own][0] ?? "") : undefined;
}

function Views({ view, branch }: { view: View; branch: string }) {
  const words = deskWords().queue;
  const several = firm.value.branches.length > 1;
  const name = (v: View) => (v === "branch" && several && !branch ? words.allBranches : words.views[v]);
  return (
    <ViewsNav
      label={words.viewsLabel}
      of="queue"
      views={views.map((v) => ({ id: v, name: name(v), href: hrefOf(v, branch), here: v === view }))}
    />
  );
}

function Branches({ view, branch }: { view: View; branch: string }) {
  const words = deskWords().queue;
  const { route } = useLocation();
  const { branches } = firm.value;
  if (branches.length < 2) return null;
  return (
    <label class="branches">
      <span class="unseen">{words.branchLabel}</span>
      <select value={branch} onChange={(e) => route(hrefOf(view, e.currentTarget.value))}>
        <option value="">{words.every}</option>
        {branches.map((b) => (
          <option key={b.id} value={b.id}>
            {b.name}
          </option>
        ))}
      </select>
    </label>
  );
}

interface RowsProps {
  view: View;
  branch: string;
  items: Parameters<typeof Row>[0]["ticket"][];
  chosen: string | undefined;
}

function Rows({ view, branch, items, chosen }: RowsProps) {
  const words = deskWords().queue;
  const now = useNow();
  const box = useRef<HTMLDivElement>(null);
  useRows(box);
  return (
    <div class="rows" ref={box}>
      <HeldList
        items={items}
        keyOf={(ticket) => ticket.id}
        label={words.list}
        announce={farmWords().newTickets}
        empty={<Empty>{words.empty[view]}</Empty>}
        render={(ticket) => (
          <Row
            ticket={ticket}
            href={hrefOf(view, branch, ticket.id)}
            here={ticket.id === chosen}
            now={now}
            zone={zoneOf(ticket.branch_id)}
          />
        )}
      />
    </div>
  );
}
