import { useEffect, useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { Problem } from "../api/problem";
import { person, proveWith, refresh, sessionEnded, signIn } from "../api/session";
import { speak } from "../i18n/language";
import { flush } from "../offline/outbox";
import { look, mostTries, phone, unlock } from "../phonekey/phone";
import { Page } from "../shell/page";
import { Button } from "../ui/button";
import { TextField } from "../ui/field";
import { SecretField } from "../ui/secret-field";
import { useSending } from "../ui/sending";
import { Trouble } from "../ui/states";
import { refreshPhone, reportWrongPin } from "./calls";
import { doorWords } from "./words";

/** SignIn asks an enrolled phone for its PIN and anybody else for a password. */
export function SignIn() {
  const [wiped, setWiped] = useState(false);
  if (phone.value === "locked") return <OpenPhone onWiped={() => setWiped(true)} />;
  return <PasswordForm note={wiped ? doorWords().phone.wiped : ""} />;
}

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

function OpenPhone({ onWiped }: { onWiped: () => void }) {
  const words = doorWords().phone;
  const { route, query } = useLocation();
  const [pin, setPin] = useState("");
  const [wrong, setWrong] = useState("");
  const { busy, submit } = useSending(async () => {
    const tried = await unlock(pin);
    if (!tried.right) {
      setPin("");
      setWrong(words.wrong(tried.left));
      if (tried.left === 0) onWiped();
      reportWrongPin(mostTries - tried.left).catch(() => undefined);
      return;
    }
    proveWith(refreshPhone);
    // The phone works before the server has answered, or without it.
    refresh()
      .then(flush)
      .catch(() => undefined);
    route(wanted(query), true);
  });
  return (
    <Page title={words.title(useOwner())}>
      <form onSubmit={submit} class="narrow">
        <SecretField label={words.pin} value={pin} onValue={setPin} error={wrong} autoComplete="off" digits />
        <Button kind="main" type="submit" busy={busy}>
          {words.go}
        </Button>
      </form>
      <p>
        <a href="/enrol">{words.forgotten}</a>
      </p>
    </Page>
  );
}

function useOwner(): string {
  const [name, setName] = useState("");
  useEffect(() => {
    look().then(
      (owner) => setName(owner?.name ?? ""),
      () => undefined,
    );
  }, []);
  return name;
}
