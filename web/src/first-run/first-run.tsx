import { useEffect, useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { explainField } from "../api/explain";
import { Problem } from "../api/problem";
import { begin, type Grant } from "../api/session";
import { send } from "../api/transport";
import { doorWords } from "../door/words";
import { type Language, language, languages, speak } from "../i18n/language";
import { shared } from "../i18n/shared/words";
import { lockWords } from "../lock/words";
import { Page } from "../shell/page";
import { needsSetUp } from "../shell/start";
import { Button } from "../ui/button";
import { Choice } from "../ui/choice";
import { TextField } from "../ui/field";
import { SecretField } from "../ui/secret-field";
import { useSending } from "../ui/sending";
import { Trouble } from "../ui/states";
import { toast } from "../ui/toast";
import { firstRunWords } from "./words";

const blank = {
  firm: { name: "", currency: "XAF", time_zone: Intl.DateTimeFormat().resolvedOptions().timeZone },
  branch: { name: "", country: "" },
  administrator: { name: "", email: "", password: "" },
};

type Answers = typeof blank;

// The server names a field by its group, or refuses a whole group and names the field alone.
const refusals: Record<string, keyof Answers> = {
  "firm-refused": "firm",
  "branch-refused": "branch",
  "person-refused": "administrator",
};

/** wrongIn explains what the server found wrong with one field of one group. */
export function wrongIn(error: unknown, group: keyof Answers, name: string): string | undefined {
  const { problems, wrong: said } = firstRunWords();
  const whole = error instanceof Problem && refusals[error.code] === group;
  const wrong: Record<string, string> = said;
  const texts = wrong[name] ? { unknown: wrong[name], invalid: wrong[name], required: wrong[name] } : {};
  return explainField(error, whole ? name : `${group}.${name}`, { ...problems, ...texts });
}

/** FirstRun sets the firm, its first branch and its first administrator, who is signed in by it. */
export function FirstRun() {
  const words = firstRunWords();
  const { route } = useLocation();
  const [answers, setAnswers] = useState<Answers>(blank);
  useEffect(() => {
    void offered().then((firm) => setAnswers((now) => ({ ...now, firm: { ...now.firm, ...firm } })));
  }, []);
  const { busy, error, submit } = useSending(async () => {
    const body = { ...answers, firm: { ...answers.firm, language: language.peek() } };
    begin((await send<Grant>("POST", "/api/first-run", { body })).body);
    needsSetUp.value = false;
    toast(words.done);
    route("/office", true);
  });
  return (
    <Page title={words.title}>
      <p>{words.intro}</p>
      <form onSubmit={submit} class="narrow">
        {error !== null && (
          <Trouble
            error={error}
            texts={{ ...doorWords().problems, ...lockWords().problems, ...words.problems }}
          />
        )}
        <Questions answers={answers} setAnswers={setAnswers} error={error} />
        <Button kind="main" type="submit" busy={busy}>
          {words.go}
        </Button>
      </form>
    </Page>
  );
}

// An import before the first run has worked with settings of its own; they are
// offered, and the browser's where the server has none.
async function offered(): Promise<Partial<Answers["firm"]>> {
  const { body } = await send<Answers["firm"]>("GET", "/api/firm");
  const zone = body.time_zone && body.time_zone !== "UTC" ? { time_zone: body.time_zone } : {};
  return { ...zone, ...(body.currency ? { currency: body.currency } : {}) };
}

interface Asked {
  answers: Answers;
  setAnswers: (answers: Answers) => void;
  error: unknown;
}

function Questions({ answers, setAnswers, error }: Asked) {
  const words = firstRunWords();
  const { problems, password } = lockWords();
  // One text field of one group, by the names that the API has for them.
  const ask = <G extends keyof Answers>(
    group: G,
    name: keyof Answers[G] & string,
    label: string,
    hint?: string,
  ) => (
    <TextField
      label={label}
      hint={hint}
      value={answers[group][name] as string}
      onValue={(value) => setAnswers({ ...answers, [group]: { ...answers[group], [name]: value } })}
      error={wrongIn(error, group, name)}
      input={{ maxLength: 200 }}
    />
  );
  return (
    <>
      <fieldset class="group">
        <legend>{words.firm}</legend>
        {ask("firm", "name", words.name)}
        <Choice<Language>
          label={words.language}
          options={languages.map((value) => ({ value, label: shared().languages[value] }))}
          value={language.value}
          onValue={(value) => void speak(value)}
        />
        {ask("firm", "time_zone", words.zone, words.zoneHint)}
        {ask("firm", "currency", words.currency, words.currencyHint)}
      </fieldset>
      <fieldset class="group">
        <legend>{words.branch}</legend>
        {ask("branch", "name", words.branchName)}
        {ask("branch", "country", words.country, words.countryHint)}
      </fieldset>
      <fieldset class="group">
        <legend>{words.admin}</legend>
        {ask("administrator", "name", words.adminName)}
        {ask("administrator", "email", words.login)}
        <SecretField
          label={password.label}
          hint={password.hint}
          value={answers.administrator.password}
          onValue={(value) =>
            setAnswers({ ...answers, administrator: { ...answers.administrator, password: value } })
          }
          error={explainField(error, "password", problems)}
          autoComplete="new-password"
        />
      </fieldset>
    </>
  );
}
