import { useRef } from "preact/hooks";
import { useLocation } from "preact-iso";
import { api } from "../../../api/client";
import { explain } from "../../../api/explain";
import { useRead } from "../../../api/read";
import { parseDay, today } from "../../../time/day";
import { Button } from "../../../ui/button";
import { HeldList } from "../../../ui/held-list";
import { Shown } from "../../../ui/shown";
import { Empty } from "../../../ui/states";
import { toast } from "../../../ui/toast";
import { Dotted } from "../brief/line";
import { keepPromise } from "../call/send-call";
import { useAgain } from "../clock";
import { DeskPage } from "../desk-page";
import { zoneOf } from "../firm";
import { useRows } from "../rows";
import type { CallBack, PromiseLine } from "../server";
import { ViewsNav } from "../views-nav";
import { deskWords } from "../words";
import { Absences } from "./absences";
import { useKeepKey } from "./keep-key";
import { Texts } from "./texts";
import { UnknownCalls } from "./unknown-calls";
import { VetClocks } from "./vet-clocks";
import { type PromiseView, promiseQuery, promiseViewOf, promiseViews } from "./views";

/** PromiseList is what the firm owes its farms: whom to call, and what was promised. */
export function PromiseList() {
  const { query } = useLocation();
  const view = promiseViewOf(query.view);
  const words = deskWords().promises;
  return (
    <DeskPage title={words.title}>
      <p class="lead">{words.lead}</p>
      <ViewsNav
        label={words.whose}
        of="promises"
        views={promiseViews.map((v) => ({
          id: v,
          name: words.views[v],
          href: `/desk/promises?view=${v}`,
          here: v === view,
        }))}
      />
      <Absences />
      {view === "call-backs" && <VetClocks />}
      {view === "call-backs" && <UnknownCalls />}
      {view === "call-backs" ? <CallBacks /> : <Promises key={view} view={view} />}
    </DeskPage>
  );
}

function Promises({ view }: { view: Exclude<PromiseView, "call-backs"> }) {
  const words = deskWords().promises;
  const list = useRead(
    `promises ${view}`,
    async (signal) => (await api.get("/api/promises", { query: promiseQuery(view), signal })).body.items,
  );
  useAgain(list.again);
  const box = useRef<HTMLDivElement>(null);
  useRows(box);
  useKeepKey(box);
  return (
    <div class="rows" ref={box}>
      <Shown read={list}>
        {(items) => (
          <HeldList
            items={items}
            keyOf={(p) => p.id}
            label={words.list}
            announce={words.fresh}
            empty={<Empty>{words.empty}</Empty>}
            render={(p) => <PromiseRow promise={p} again={() => void list.again()} />}
          />
        )}
      </Shown>
    </div>
  );
}

function PromiseRow({ promise, again }: { promise: PromiseLine; again: () => void }) {
  const words = deskWords().promises;
  const text = promise.text || words.noWords;
  const keep = () =>
    keepPromise(promise)
      .then(() => toast(words.kept))
      .catch((error: unknown) => toast(explain(error)))
      .finally(again);
  return (
    <div class="promise-row">
      <a class="row" href={`/desk/farms/${promise.farm_id}?who=${encodeURIComponent(promise.made_by)}`}>
        <span class="row-top">
          <Due on={promise.due_on} branch={promise.branch_id} />
          <b>{words.kinds[promise.kind] ?? promise.kind}</b>
          <strong class="row-farm">{promise.farm}</strong>
        </span>
        <span class="row-below">
          <span class="row-what">{text}</span>
          <span class="field-hint-inline">{promise.maker && words.by(promise.maker)}</span>
        </span>
      </a>
      <Button onClick={() => void keep()} aria-label={words.keepOf(text)}>
        {words.keep}
      </Button>
    </div>
  );
}

function Due({ on, branch }: { on: string; branch: string }) {
  const words = deskWords().promises;
  const late = today(zoneOf(branch)) - (parseDay(on) ?? 0);
  return (
    <span class={late > 0 ? "row-overdue" : undefined}>
      {words.due(on)}
      {late > 0 && <b> ({words.late(late)})</b>}
    </span>
  );
}

function CallBacks() {
  const words = deskWords().promises;
  const list = useRead("call-backs", async (signal) => (await api.get("/api/call-backs", { signal })).body);
  useAgain(list.again);
  const box = useRef<HTMLDivElement>(null);
  useRows(box);
  return (
    <div class="rows" ref={box}>
      <Texts />
      <Shown read={list}>
        {({ items, more }) => (
          <>
            <HeldList
              items={items}
              keyOf={(line) => line.farm_id}
              label={words.callList}
              announce={words.fresh}
              empty={<Empty>{words.callsEmpty}</Empty>}
              render={(line) => <CallRow line={line} />}
            />
            {more && <p class="field-hint">{words.moreCalls}</p>}
          </>
        )}
      </Shown>
    </div>
  );
}

function CallRow({ line }: { line: CallBack }) {
  const words = deskWords().promises;
  const person = line.people[0];
  const who = person ? `?who=${encodeURIComponent(person.person_id)}` : "";
  return (
    <a class="row" href={`/desk/farms/${line.farm_id}${who}`}>
      <span class="row-top">
        <Due on={line.due_on} branch={line.branch_id} />
        <strong class="row-farm">{line.farm}</strong>
        <Dotted parts={[line.town, line.client]} />
      </span>
      <span class="row-below">
        <span>{person ? `${person.name} ${person.phone}` : words.nobody}</span>
        <span class="row-what">
          <Dotted
            parts={[
              ...line.promises.map((p) => p.text || words.noWords),
              line.quiet_days > 0 && words.quiet(line.quiet_days, line.last_heard),
            ]}
          />
        </span>
      </span>
    </a>
  );
}
