import { useEffect } from "preact/hooks";
import { useLocation } from "preact-iso";
import { person, signOut } from "../api/session";
import { unsent } from "../offline/outbox";
import { forget, lock, phone } from "../phonekey/phone";
import { Page } from "../shell/page";
import { Button } from "../ui/button";
import { lockWords } from "./words";
import "./lock.css";

/** signOutHere ends the session and takes what can be read of the person off this device. */
export async function signOutHere(): Promise<void> {
  const who = person.peek();
  const told = signOut();
  if (who) await forget(who.id);
  await told;
}

/** Leave lets the person of a phone choose between locking it and signing out, and says what each costs. */
export function Leave() {
  const words = lockWords().leave;
  const { route } = useLocation();
  useEffect(() => {
    if (phone.peek() !== "open") route("/", true);
  }, []);
  const shut = () => {
    lock();
    route("/signin", true);
  };
  const out = () => void signOutHere().finally(() => route("/signin", true));
  return (
    <Page title={words.title} back="/">
      <ul class="lock-list">
        <li>
          <Button kind="main" onClick={shut}>
            {words.lock}
          </Button>
          <p>{words.lockHint}</p>
        </li>
        <li>
          <Button kind="danger" onClick={out}>
            {words.out}
          </Button>
          <p>{words.outHint}</p>
          {unsent.value > 0 && <p>{words.unsent(unsent.value)}</p>}
        </li>
      </ul>
    </Page>
  );
}
