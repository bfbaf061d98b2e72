import { useState } from "preact/hooks";
import { roles, withSession } from "../../api/session";
import { send } from "../../api/transport";
import { language } from "../../i18n/language";
import { Page } from "../../shell/page";
import { Button } from "../../ui/button";
import { CheckField, Field, TextField } from "../../ui/field";
import { useSending } from "../../ui/sending";
import { Trouble } from "../../ui/states";
import { toast } from "../../ui/toast";
import { Found } from "./register-found";
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
        <div class="register-found">
          <Found key={String(answer.committed)} answer={answer} />
          {write.error !== null && <Trouble error={write.error} texts={words.problems} />}
          {answer.committed ? (
            <Written rows={good} watched={asked.watch} />
          ) : good > 0 ? (
            <form onSubmit={write.submit} class="register-write">
              <Button kind="main" type="submit" busy={write.busy}>
                {words.register.write(good)}
              </Button>
            </form>
          ) : (
            <p>{words.register.nothing}</p>
          )}
        </div>
      )}
    </Page>
  );
}

// What to do next, for those who may do it.
function Written({ rows, watched }: { rows: number; watched: boolean }) {
  const words = officeWords().register;
  return (
    <p class="register-write">
      <strong>{words.writtenRows(rows)}</strong> {watched ? words.watched : words.toConfirm}{" "}
      {roles.value.includes("manager") && !watched && <a href="/manager/confirm">{words.goConfirm}</a>}
    </p>
  );
}

async function upload({ file, branch, country, watch }: Asked, commit: boolean): Promise<RegisterAnswer> {
  const body = new FormData();
  body.set("language", language.value);
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
        input={{ maxLength: 40 }}
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
