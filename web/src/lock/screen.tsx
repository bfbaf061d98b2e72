import { useEffect, useState } from "preact/hooks";
import { proveWith, refresh } from "../api/session";
import { refreshPhone, reportWrongPin } from "../door/calls";
import { ChoosePin } from "../door/enrol";
import { speak } from "../i18n/language";
import { flush } from "../offline/outbox";
import { look, mostTries, unlock } from "../phonekey/phone";
import { Page } from "../shell/page";
import { Button } from "../ui/button";
import { SecretField } from "../ui/secret-field";
import { useSending } from "../ui/sending";
import { Loading } from "../ui/states";
import { numbers } from "./numbers";
import { lockWords } from "./words";
import "./lock.css";

type Person = Awaited<ReturnType<typeof look>>[number];

/** Screen asks whoever uses this phone for their PIN; where a family shares it, who it is comes first. */
export function Screen({ onOpen, onWiped }: { onOpen: () => void; onWiped: () => void }) {
  const [people, setPeople] = useState<readonly Person[] | null>(null);
  const [who, setWho] = useState<Person | null>(null);
  const [forgot, setForgot] = useState(false);
  useEffect(() => {
    look().then(setPeople, () => setPeople([]));
  }, []);
  if (!people) return <Loading />;
  const person = who ?? (people.length === 1 ? people[0] : null);
  if (!person) return <Choose people={people} onChoose={setWho} />;
  if (forgot) return <Forgot onBack={() => setForgot(false)} />;
  return (
    <OpenPhone
      key={person.id}
      person={person}
      onOpen={onOpen}
      onWiped={onWiped}
      onForgot={() => setForgot(true)}
      onAnother={people.length > 1 ? () => setWho(null) : undefined}
    />
  );
}

function Choose({ people, onChoose }: { people: readonly Person[]; onChoose: (person: Person) => void }) {
  const choose = (person: Person) => {
    speak(person.language).catch(() => undefined);
    onChoose(person);
  };
  return (
    <Page title={lockWords().who}>
      <ul class="lock-list">
        {people.map((p) => (
          <li key={p.id}>
            <Button onClick={() => choose(p)}>{p.name}</Button>
          </li>
        ))}
      </ul>
      <Newcomer />
    </Page>
  );
}

function Newcomer() {
  return (
    <p>
      <a class="lock-link" href="/enrol">
        {lockWords().newcomer}
      </a>
    </p>
  );
}

function OpenPhone({
  person,
  onOpen,
  onWiped,
  onForgot,
  onAnother,
}: {
  person: Person;
  onOpen: () => void;
  onWiped: () => void;
  onForgot: () => void;
  onAnother: (() => void) | undefined;
}) {
  const words = lockWords();
  const [pin, setPin] = useState("");
  const [wrong, setWrong] = useState("");
  const { busy, submit } = useSending(async () => {
    const tried = await unlock(person.id, pin);
    if (!tried.right) {
      setPin("");
      setWrong(words.wrong(tried.left));
      if (tried.left === 0) onWiped();
      reportWrongPin(mostTries - tried.left, tried.device).catch(() => undefined);
      return;
    }
    proveWith(refreshPhone);
    // The phone works before the server has answered, or without it.
    refresh()
      .then(flush)
      .catch(() => undefined);
    onOpen();
  });
  return (
    <Page title={words.title(person.name)}>
      <form onSubmit={submit} class="narrow">
        <SecretField label={words.pin} value={pin} onValue={setPin} error={wrong} autoComplete="off" digits />
        <Button kind="main" type="submit" busy={busy}>
          {words.open}
        </Button>
      </form>
      <ul class="lock-list">
        <li>
          <Button onClick={onForgot}>{words.forgotten}</Button>
        </li>
        {onAnother && (
          <li>
            <Button onClick={onAnother}>{words.another}</Button>
          </li>
        )}
      </ul>
      {!onAnother && <Newcomer />}
    </Page>
  );
}

function Forgot({ onBack }: { onBack: () => void }) {
  const words = lockWords().forgot;
  const known = numbers();
  return (
    <ChoosePin secret="" name="" title={words.title}>
      <p>{words.how}</p>
      <p>{words.safe}</p>
      {known.length === 0 && <p>{words.noNumber}</p>}
      <ul class="lock-list">
        {known.map((c) => (
          <li key={c.phone}>
            <a class="button button-plain" href={`tel:${c.phone}`}>
              {words.call(c.name)} <span>{c.phone}</span>
            </a>
          </li>
        ))}
        <li>
          <Button kind="quiet" onClick={onBack}>
            {words.back}
          </Button>
        </li>
      </ul>
    </ChoosePin>
  );
}
