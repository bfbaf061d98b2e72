import { useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { explainField } from "../api/explain";
import { begin, type Grant } from "../api/session";
import { send } from "../api/transport";
import { type Language, language, languages, speak } from "../i18n/language";
import { shared } from "../i18n/shared/words";
import { Page } from "../shell/page";
import { needsSetUp } from "../shell/start";
import { Button } from "../ui/button";
import { Choice } from "../ui/choice";
import { TextField } from "../ui/field";
import { SecretField } from "../ui/secret-field";
import { useSending } from "../ui/sending";
import { Trouble } from "../ui/states";
import { toast } from "../ui/toast";
import { doorWords } from "./words";

const blank = {
  firm: { name: "", currency: "XAF", time_zone: Intl.DateTimeFormat().resolvedOptions().timeZone },
  branch: { name: "", country: "" },
  administrator: { name: "", email: "", password: "" },
};

type Answers = typeof blank;

/** FirstRun sets the firm, its first branch and its first administrator, who is signed in by it. */
export function FirstRun() {
  const words = doorWords();
  const { route } = useLocation();
  const [answers, setAnswers] = useState<Answers>(blank);
  const { busy, error, submit } = useSending(async () => {
    const body = { ...answers, firm: { ...answers.firm, language: language.peek() } };
    begin((await send<Grant>("POST", "/api/first-run", { body })).body);
    needsSetUp.value = false;
    toast(words.firstRun.done);
    route("/office", true);
  });
  return (
    <Page title={words.firstRun.title}>
      <p>{words.firstRun.intro}</p>
      <form onSubmit={submit} class="narrow">
        {error !== null && <Trouble error={error} texts={words.problems} />}
        <Questions answers={answers} setAnswers={setAnswers} error={error} />
        <Button kind="main" type="submit" busy={busy}>
          {words.firstRun.go}
        </Button>
      </form>
    </Page>
  );
}

interface Asked {
  answers: Answers;
  setAnswers: (answers: Answers) => void;
  error: unknown;
}

function Questions({ answers, setAnswers, error }: Asked) {
  const { problems, firstRun: words, password } = doorWords();
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
      error={explainField(error, `${group}.${name}`, problems)}
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
