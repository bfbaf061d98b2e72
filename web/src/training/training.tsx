import { useState } from "preact/hooks";
import { api } from "../api/client";
import { saveFile } from "../api/file";
import { useRead } from "../api/read";
import { usePackList } from "../farm/packs";
import { language } from "../i18n/language";
import { useBranches } from "../roles/manager/branches";
import { FilterSelect } from "../roles/manager/filter-select";
import { useFilters } from "../roles/manager/filters";
import { Page } from "../shell/page";
import { isoOf, today } from "../time/day";
import { Button } from "../ui/button";
import { Shown } from "../ui/shown";
import { Trouble } from "../ui/states";
import { Coverage } from "./coverage";
import { bringRecord } from "./export";
import { Learners } from "./learners";
import { Questions } from "./questions";
import { trainingWords } from "./words";
import "../farm/notebook.css";
import "./training.css";

/** Training shows staff how far farms and branches are trained, who is learning what, and which questions fail. */
export function Training() {
  const words = trainingWords();
  const branches = useBranches();
  const [{ branch }, set] = useFilters(["branch"]);
  const lang = language.value;
  const query = { lang, ...(branch ? { branch } : {}) };
  usePackList();
  const page = useRead(
    `training ${branch} ${lang}`,
    async (signal) => (await api.get("/api/training", { query, signal })).body,
  );
  const questions = useRead(
    `questions ${branch} ${lang}`,
    async (signal) => (await api.get("/api/training/questions", { query, signal })).body.items,
  );
  return (
    <Page title={words.title}>
      <div class="training">
        <p>{words.intro}</p>
        <div class="filters no-print">
          {branches.length > 1 && (
            <FilterSelect
              label={words.branch}
              all={words.allBranches}
              value={branch}
              onValue={(value) => set({ branch: value })}
              options={branches.map((b) => ({ value: b.id, label: b.name }))}
            />
          )}
          <Export branch={branch} />
        </div>
        <Shown read={page}>
          {(found) => (
            <>
              <Coverage page={found} />
              <Learners people={found.people} />
            </>
          )}
        </Shown>
        <Shown read={questions}>{(items) => <Questions questions={items} />}</Shown>
      </div>
    </Page>
  );
}

function Export({ branch }: { branch: string }) {
  const words = trainingWords();
  const [busy, setBusy] = useState(false);
  const [error, setError] = useState<unknown>(null);
  const take = () => {
    setBusy(true);
    setError(null);
    bringRecord(language.peek(), branch)
      .then((file) => saveFile(file, words.file(isoOf(today()))))
      .catch(setError)
      .finally(() => setBusy(false));
  };
  return (
    <>
      <Button busy={busy} onClick={take}>
        {words.export}
      </Button>
      {error !== null && <Trouble error={error} />}
    </>
  );
}
