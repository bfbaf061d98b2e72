import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { person } from "../api/session";
import { speak } from "../i18n/language";
import { lockWords } from "../lock/words";
import { flush } from "../offline/outbox";
import { pinWorks } from "../phonekey/phone";
import { Page } from "../shell/page";
import { Button } from "../ui/button";
import { TextField } from "../ui/field";
import { Later } from "../ui/later";
import { SecretField } from "../ui/secret-field";
import { useSending } from "../ui/sending";
import { Loading, Trouble } from "../ui/states";
import { enrolPhone, lookAt, revoked, type WayIn } from "./calls";
import { doorWords } from "./words";

// The secret of a link stands in the fragment, which no server and no log
// sees. It is taken out of the address at once, so that no history keeps it.
function takeSecret(): string {
  const secret = location.hash.slice(1);
  if (secret) history.replaceState(null, "", location.pathname);
  return secret;
}

// Staff choose theirs at a desk; a phone need not wait for it.
const choosePassword = () =>
  Promise.all([import("../lock/choose-password"), lockWords.load()]).then(([m]) => m.ChoosePassword);

/** Enrol shows for whom a link is and lets a button, never the opening of the page, spend it. */
export function Enrol() {
  const words = doorWords();
  const [secret] = useState(takeSecret);
  const [found, setFound] = useState<WayIn | null>(null);
  const [error, setError] = useState<unknown>(null);
  useEffect(() => {
    if (secret) lookAt(secret).then(setFound, setError);
  }, [secret]);
  if (secret && error) {
    return (
      <Page title={words.enrol.title}>
        <Trouble error={error} texts={words.problems} />
      </Page>
    );
  }
  if (secret && !found) return <Loading />;
  if (found && found.purpose !== "phone") {
    return <Later load={choosePassword} props={{ secret, name: found.name }} />;
  }
  return <ChoosePin secret={secret} name={found?.name ?? ""} />;
}

/** ChoosePin spends a link or a code: this phone is the person's from then on, under a PIN of their choice. */
export function ChoosePin({
  secret,
  name,
  title,
  children,
}: {
  secret: string;
  name: string;
  title?: string;
  children?: ComponentChildren;
}) {
  const words = doorWords();
  const { route } = useLocation();
  const [code, setCode] = useState("");
  const [pin, setPin] = useState("");
  const [pinError, setPinError] = useState("");
  const { busy, error, submit } = useSending(async () => {
    setPinError(pinWorks(pin) ? "" : words.enrol.pinWrong);
    if (!pinWorks(pin)) return;
    revoked.value = false;
    await enrolPhone(secret ? { secret } : { code: code.trim() }, pin);
    const spoken = person.peek()?.language;
    if (spoken) await speak(spoken).catch(() => undefined);
    route("/", true);
    // What was kept while this phone was not let in must not wait for the next try.
    flush().catch(() => undefined);
  });
  return (
    <Page title={title ?? words.enrol.title}>
      {name && <p>{words.enrol.forWhom(name)}</p>}
      {children ?? <p>{words.enrol.why}</p>}
      {!window.isSecureContext && <p role="alert">{words.enrol.secure}</p>}
      <form onSubmit={submit} class="narrow">
        {error !== null && <Trouble error={error} texts={words.problems} />}
        {!secret && (
          <TextField
            label={words.enrol.code}
            hint={words.enrol.codeHint}
            value={code}
            onValue={setCode}
            input={{ autoComplete: "off", spellcheck: false, maxLength: 20 }}
          />
        )}
        <SecretField
          label={words.enrol.pin}
          value={pin}
          onValue={setPin}
          error={pinError}
          autoComplete="new-password"
          digits
        />
        <Button kind="main" type="submit" busy={busy}>
          {words.enrol.go}
        </Button>
        <p class="field-hint">{words.enrol.cost}</p>
      </form>
    </Page>
  );
}
