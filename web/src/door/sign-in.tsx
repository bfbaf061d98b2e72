import { useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { Problem } from "../api/problem";
import { person, sessionEnded, signIn } from "../api/session";
import { speak } from "../i18n/language";
import { lockWords } from "../lock/words";
import { flush } from "../offline/outbox";
import { phone } from "../phonekey/phone";
import { Page } from "../shell/page";
import { Button } from "../ui/button";
import { TextField } from "../ui/field";
import { Later } from "../ui/later";
import { SecretField } from "../ui/secret-field";
import { useSending } from "../ui/sending";
import { Trouble } from "../ui/states";
import { revoked } from "./calls";
import { doorWords } from "./words";

/** SignIn asks an enrolled phone for its PIN and anybody else for a password. */
export function SignIn() {
  const { route, query } = useLocation();
  const [wiped, setWiped] = useState(false);
  const words = doorWords().phone;
  const note = revoked.value ? words.revoked : wiped ? words.wiped : "";
  if (phone.value !== "locked") return <PasswordForm note={note} />;
  return (
    <>
      {note && <p role="alert">{note}</p>}
      <Later
        load={lockScreen}
        props={{ onOpen: () => route(wanted(query), true), onWiped: () => setWiped(true) }}
      />
    </>
  );
}

// A phone that nobody has enrolled yet does not wait for what opens one.
const lockScreen = () => Promise.all([import("../lock/screen"), lockWords.load()]).then(([m]) => m.Screen);

// Only an address of ours: a link must not send people elsewhere.
function wanted(query: Record<string, string>): string {
  const to = query.to ?? "/";
  return /^\/(?!\/)/.test(to) ? to : "/";
}

function PasswordForm({ note }: { note: string }) {
  const words = doorWords();
  const { route, query } = useLocation();
  const [login, setLogin] = useState("");
  const [password, setPassword] = useState("");
  const [code, setCode] = useState("");
  const [needsCode, setNeedsCode] = useState(false);
  const { busy, error, submit } = useSending(async () => {
    try {
      await signIn(login.trim(), password, code.trim());
    } catch (problem) {
      if (problem instanceof Problem && problem.code === "code-needed") setNeedsCode(true);
      throw problem;
    }
    const spoken = person.peek()?.language;
    if (spoken) await speak(spoken).catch(() => undefined);
    route(wanted(query), true);
    flush().catch(() => undefined);
  });
  return (
    <Page title={words.signIn.title}>
      <form onSubmit={submit} class="narrow">
        {note && <p role="alert">{note}</p>}
        {!note && sessionEnded.value && <p role="status">{words.signIn.ended}</p>}
        {error !== null && <Trouble error={error} texts={words.problems} />}
        <TextField
          label={words.signIn.login}
          value={login}
          onValue={setLogin}
          input={{ autoComplete: "username", spellcheck: false, maxLength: 200 }}
        />
        <SecretField
          label={words.signIn.password}
          value={password}
          onValue={setPassword}
          autoComplete="current-password"
        />
        {needsCode && (
          <SecretField
            label={words.signIn.code}
            value={code}
            onValue={setCode}
            autoComplete="one-time-code"
            digits
          />
        )}
        <Button kind="main" type="submit" busy={busy}>
          {words.signIn.go}
        </Button>
      </form>
      <p>
        <a href="/enrol">{words.signIn.havePhoneCode}</a>
      </p>
    </Page>
  );
}
