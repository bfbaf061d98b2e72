import { useRef, useState } from "preact/hooks";
import { api } from "../../api/client";
import { useReadList } from "../../api/read";
import type { ToConfirmRow } from "../../api/types";
import { usePackList } from "../../farm/packs";
import { uuidv7 } from "../../offline/uuid";
import { Page } from "../../shell/page";
import { Button } from "../../ui/button";
import { CheckField } from "../../ui/field";
import { FormDialog } from "../../ui/form-dialog";
import { useSending } from "../../ui/sending";
import { More, Shown } from "../../ui/shown";
import { Trouble } from "../../ui/states";
import { toast } from "../../ui/toast";
import { BranchFilter, useBranches } from "./branches";
import { ConfirmLine } from "./confirm-line";
import { EnterpriseFilter } from "./farms";
import { useFilters } from "./filters";
import { ToRegister } from "./to-register";
import { managerWords } from "./words";

type Watch = { ids: string[] } | { branch_id: string };

/** Confirm lists the farms that nobody watches yet, with what was found, and starts watching one, many, or a branch. */
export function Confirm() {
  const words = managerWords();
  const branches = useBranches();
  const [{ branch, enterprise }, set] = useFilters(["branch", "enterprise"]);
  const [times, setTimes] = useState(0);
  const [chosen, choose] = useState<ReadonlySet<string>>(new Set());
  const [sure, setSure] = useState(false);
  usePackList();
  const list = useReadList<ToConfirmRow>(
    `to confirm ${branch} ${enterprise} ${times}`,
    async (cursor, signal) => {
      const query = {
        limit: 50,
        ...(branch ? { branch } : {}),
        ...(enterprise ? { enterprise } : {}),
        ...(cursor ? { cursor } : {}),
      };
      return (await api.get("/api/to-confirm", { query, signal })).body;
    },
  );
  const watch = useWatch(() => {
    choose(new Set());
    setTimes((n) => n + 1);
  });
  const many = useSending(() => watch({ ids: [...chosen] }));
  const branchName = branches.find((b) => b.id === branch)?.name ?? "";
  const toggle = (id: string, yes: boolean) => {
    const next = new Set(chosen);
    if (yes) next.add(id);
    else next.delete(id);
    choose(next);
  };
  return (
    <Page title={words.confirm.title} aside={<ToRegister />}>
      <p>{words.confirm.intro}</p>
      <div class="filters no-print">
        <BranchFilter branches={branches} value={branch} onValue={(b) => set({ branch: b })} />
        <EnterpriseFilter value={enterprise} onValue={(e) => set({ enterprise: e })} />
        {branchName && (list.value?.length ?? 0) > 0 && (
          <Button onClick={() => setSure(true)}>{words.confirm.watchBranch(branchName)}</Button>
        )}
      </div>
      <Shown read={list}>
        {(farms) =>
          farms.length === 0 ? (
            <p class="empty">{branch || enterprise ? words.filter.none : words.confirm.none}</p>
          ) : (
            <form onSubmit={many.submit}>
              {many.error !== null && <Trouble error={many.error} texts={words.problems} />}
              <div class="confirm-all">
                <CheckField
                  label={words.confirm.chooseAll}
                  checked={farms.every((f) => chosen.has(f.id))}
                  onChecked={(yes) => choose(new Set(yes ? farms.map((f) => f.id) : []))}
                />
                {chosen.size > 0 && (
                  <Button kind="main" type="submit" busy={many.busy}>
                    {words.confirm.watchMany(chosen.size)}
                  </Button>
                )}
              </div>
              <ul class="confirm">
                {farms.map((farm) => (
                  <ConfirmLine
                    key={farm.id}
                    farm={farm}
                    chosen={chosen.has(farm.id)}
                    onChosen={(yes) => toggle(farm.id, yes)}
                    watch={() => watch({ ids: [farm.id] })}
                  />
                ))}
              </ul>
            </form>
          )
        }
      </Shown>
      <More list={list} label={words.confirm.more} />
      {sure && (
        <FormDialog
          title={words.confirm.watchBranch(branchName)}
          save={words.confirm.watchOne}
          send={() => watch({ branch_id: branch })}
          onClose={() => setSure(false)}
          texts={words.problems}
        >
          {() => <p>{words.confirm.sure(branchName)}</p>}
        </FormDialog>
      )}
    </Page>
  );
}

// Watching the same farms again, after an answer that was lost, goes under the same key.
function useWatch(done: () => void): (body: Watch) => Promise<void> {
  const sent = useRef<{ content: string; key: string }>();
  return async (body) => {
    const content = JSON.stringify(body);
    if (sent.current?.content !== content) sent.current = { content, key: uuidv7() };
    const answer = await api.post("/api/farms/watch", { body, key: sent.current.key });
    sent.current = undefined;
    toast(managerWords().confirm.watched(answer.body.watched));
    done();
  };
}
