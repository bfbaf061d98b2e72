import { useState } from "preact/hooks";
import { withSession } from "../../api/session";
import { send } from "../../api/transport";
import { formats } from "../../i18n/format";
import { Page } from "../../shell/page";
import { Button } from "../../ui/button";
import { CheckField, Field, TextField } from "../../ui/field";
import { useSending } from "../../ui/sending";
import { Trouble } from "../../ui/states";
import { Table } from "../../ui/table";
import { toast } from "../../ui/toast";
import type { RegisterAnswer } from "./types";
import { officeWords } from "./words";

interface Asked {
  file: File | null;
  branch: string;
  country: string;
  watch: boolean;
}

const blank: Asked = { file: null, branch: "", country: "", watch: false };

/** Register reads a spreadsheet: first a dry run with a verdict a row, then, when asked, the import itself. */
export function Register() {
  const words = officeWords();
  const [asked, setAsked] = useState(blank);
  const [answer, setAnswer] = useState<RegisterAnswer | null>(null);
  const read = async (commit: boolean) => {
    const got = await upload(asked, commit);
    setAnswer(got);
    if (commit) toast(words.register.written);
  };
  const look = useSending(() => read(false));
  const write = useSending(() => read(true));
  const good = answer ? answer.new + answer.changed : 0;
  return (
    <Page title={words.register.title}>
      <p>{words.register.intro}</p>
      <form onSubmit={look.submit} class="narrow">
        {look.error !== null && <Trouble error={look.error} texts={words.problems} />}
        <Questions
          asked={asked}
          setAsked={(next) => {
            setAsked(next);
            setAnswer(null);
          }}
        />
        <Button kind={answer ? "plain" : "main"} type="submit" busy={look.busy} disabled={!asked.file}>
          {words.register.look}
        </Button>
      </form>
      {answer && (
        <section aria-live="polite">
          <Found answer={answer} />
          {write.error !== null && <Trouble error={write.error} texts={words.problems} />}
          {!answer.committed &&
            (good > 0 ? (
              <form onSubmit={write.submit}>
                <Button kind="main" type="submit" busy={write.busy}>
                  {words.register.write(good)}
                </Button>
              </form>
            ) : (
              <p>{words.register.nothing}</p>
            ))}
        </section>
      )}
    </Page>
  );
}

async function upload({ file, branch, country, watch }: Asked, commit: boolean): Promise<RegisterAnswer> {
  const body = new FormData();
  if (file) body.append("file", file);
  body.append("commit", String(commit));
  body.append("watch", String(watch));
  body.append("branch", branch);
  body.append("country", country);
  const answer = await withSession((headers) =>
    send<RegisterAnswer>("POST", "/api/intake", { body, headers }),
  );
  return answer.body;
}

function Questions({ asked, setAsked }: { asked: Asked; setAsked: (asked: Asked) => void }) {
  const words = officeWords().register;
  return (
    <>
      <Field label={words.file} hint={words.fileHint}>
        {(control) => (
          <input
            {...control}
            type="file"
            accept=".csv,.tsv,.txt,.xlsx"
            onChange={(e) => setAsked({ ...asked, file: e.currentTarget.files?.[0] ?? null })}
          />
        )}
      </Field>
      <TextField
        label={words.branch}
        optional
        value={asked.branch}
        onValue={(branch) => setAsked({ ...asked, branch })}
        input={{ maxLength: 200 }}
      />
      <TextField
        label={words.country}
        hint={words.countryHint}
        optional
        value={asked.country}
        onValue={(country) => setAsked({ ...asked, country: country.toUpperCase() })}
        input={{ maxLength: 2 }}
      />
      <CheckField
        label={words.watch}
        hint={words.watchHint}
        checked={asked.watch}
        onChecked={(watch) => setAsked({ ...asked, watch })}
      />
    </>
  );
}

// More rows than this would only be scrolled past.
const mostShown = 200;

function Found({ answer }: { answer: RegisterAnswer }) {
  const words = officeWords().register;
  const { number } = formats();
  const counts = ["new", "changed", "same", "refused", "doubles"] as const;
  const changes = answer.verdicts.flatMap((v) => (v.changes ?? []).map((c) => ({ row: v.row, ...c })));
  return (
    <>
      <h2>{words.totals(answer.rows)}</h2>
      <ul class="register-counts">
        {counts.map((key) => (
          <li key={key}>
            <strong>{number(answer[key])}</strong> {words.counts[key]}
          </li>
        ))}
      </ul>
      {answer.problems.length === 0 ? (
        <p>{words.problemsNone}</p>
      ) : (
        <>
          <Table
            caption={words.problems}
            rows={answer.problems.slice(0, mostShown)}
            keyOf={(p) => `${p.row} ${p.column} ${p.code}`}
            columns={[
              { key: "row", head: words.row, cell: (p) => number(p.row), number: true },
              { key: "column", head: words.column, cell: (p) => p.column },
              { key: "severity", head: words.what, cell: (p) => words.severity[p.severity] ?? p.severity },
              { key: "text", head: "", cell: (p) => p.text },
            ]}
          />
          {answer.problems.length > mostShown && <p>{words.shownOf(mostShown, answer.problems.length)}</p>}
        </>
      )}
      {changes.length > 0 && (
        <Table
          caption={words.changes}
          rows={changes.slice(0, mostShown)}
          keyOf={(c) => `${c.row} ${c.column}`}
          columns={[
            { key: "row", head: words.row, cell: (c) => number(c.row), number: true },
            { key: "column", head: words.column, cell: (c) => c.column },
            { key: "from", head: words.from, cell: (c) => c.from || words.blank },
            { key: "to", head: words.to, cell: (c) => c.to },
          ]}
        />
      )}
    </>
  );
}
