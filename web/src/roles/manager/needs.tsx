import { useState } from "preact/hooks";
import { api } from "../../api/client";
import { useRead } from "../../api/read";
import type { VisitNeed, VisitNeedList } from "../../api/types";
import { usePacks } from "../../farm/packs";
import { PlanVisit } from "../../farm/visits/plan";
import { useCommand } from "../../keyboard/commands";
import { Page } from "../../shell/page";
import { Button } from "../../ui/button";
import { Shown } from "../../ui/shown";
import { BranchFilter, useBranches } from "./branches";
import { useFilters } from "./filters";
import { NeedLine, rowId } from "./need";
import { NeedMap } from "./need-map";
import { ToRegister } from "./to-register";
import { managerWords } from "./words";

const firstShown = 50;

/** Needs is the manager's first page: which farms need a visit and why, beside the map. */
export function Needs() {
  const words = managerWords().needs;
  const branches = useBranches();
  const [{ branch }, set] = useFilters(["branch"]);
  const [limit, setLimit] = useState(firstShown);
  const read = useRead(`needs ${branch} ${limit}`, async (signal) => {
    const query = { limit, ...(branch ? { branch } : {}) };
    return (await api.get("/api/visit-needs", { query, signal })).body;
  });
  usePacks(read.value?.items.flatMap((need) => need.cycles.map((c) => c.enterprise)) ?? []);
  return (
    <Page
      title={words.title}
      aside={
        <BranchFilter branches={branches} value={branch} onValue={(chosen) => set({ branch: chosen })} />
      }
    >
      <Shown read={read} texts={managerWords().problems}>
        {(list) => (
          <>
            <List list={list} again={() => void read.again()} />
            {list.items.length < list.total && (
              <Button busy={read.busy} onClick={() => setLimit(Math.min(500, limit * 4))}>
                {words.more(list.items.length, list.total)}
              </Button>
            )}
          </>
        )}
      </Shown>
    </Page>
  );
}

function List({ list, again }: { list: VisitNeedList; again: () => void }) {
  const words = managerWords().needs;
  const [chosen, choose] = useState<string>();
  const [planning, plan] = useState<VisitNeed | null>(null);
  const must = list.items.filter((need) => need.must_go.length > 0);
  const rest = list.items.filter((need) => need.must_go.length === 0);
  useWalk(list.items, plan);
  const group = (needs: readonly VisitNeed[], title: string, hint: string | undefined, from: number) =>
    needs.length > 0 && (
      <section aria-label={title}>
        <h2>{title}</h2>
        {hint && <p class="minor">{hint}</p>}
        <ol class="needs" start={from}>
          {needs.map((need) => (
            <NeedLine
              key={need.farm_id}
              need={need}
              on={list.on}
              chosen={need.farm_id === chosen}
              onChosen={() => choose(need.farm_id)}
              onPlan={() => plan(need)}
            />
          ))}
        </ol>
      </section>
    );
  return (
    <>
      {list.farms > 0 && <p>{words.summary(list.farms, list.total, list.must_go)}</p>}
      {list.items.length === 0 ? (
        <p class="empty">
          {list.farms === 0 ? (
            <>
              {words.noFarms} <ToRegister />
            </>
          ) : (
            words.none
          )}
        </p>
      ) : (
        <div class="beside-map">
          <div>
            {group(must, words.mustGo, words.mustGoHint, 1)}
            {group(rest, words.byPoints, undefined, must.length + 1)}
          </div>
          <NeedMap key={list.items.map((n) => n.farm_id).join()} needs={list.items} chosen={chosen} />
        </div>
      )}
      {planning && (
        <PlanVisit
          goal={{ farmId: planning.farm_id, farm: planning.farm, branchId: planning.branch_id }}
          onClose={() => plan(null)}
          planned={again}
        />
      )}
    </>
  );
}

// Walking down the list by keys moves the focus from farm to farm.
function useWalk(needs: readonly VisitNeed[], plan: (need: VisitNeed) => void): void {
  const words = managerWords().needs.keys;
  const at = () => {
    const row = document.activeElement?.closest(".need")?.id;
    return needs.findIndex((n) => rowId(n.farm_id) === row);
  };
  const go = (by: number) => {
    const next = needs[Math.min(Math.max(at() + by, 0), needs.length - 1)];
    if (next) document.getElementById(rowId(next.farm_id))?.querySelector<HTMLElement>("a")?.focus();
  };
  useCommand({ id: "manager.next", combo: "j", label: () => words.next }, () => go(1));
  useCommand({ id: "manager.previous", combo: "k", label: () => words.previous }, () => go(-1));
  useCommand({ id: "manager.plan", combo: "v", label: () => words.plan }, () => {
    const need = needs[at()];
    if (need) plan(need);
  });
}
