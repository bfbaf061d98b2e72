import { useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { explainField } from "../api/explain";
import { choosePassword } from "../door/calls";
import { doorWords } from "../door/words";
import { Page } from "../shell/page";
import { Button } from "../ui/button";
import { SecretField } from "../ui/secret-field";
import { useSending } from "../ui/sending";
import { Trouble } from "../ui/states";
import { toast } from "../ui/toast";
import { lockWords } from "./words";

/** ChoosePassword spends a link for a password of staff. */
export function ChoosePassword({ secret, name }: { secret: string; name: string }) {
  const words = lockWords();
  const door = doorWords();
  const texts = { ...door.problems, ...words.problems };
  const { route } = useLocation();
  const [password, setPassword] = useState("");
  const { busy, error, submit } = useSending(async () => {
    const login = await choosePassword(secret, password);
    toast(words.password.done(login));
    route("/signin", true);
  });
  const fieldError = explainField(error, "password", texts);
  return (
    <Page title={words.password.title}>
      <p>{door.enrol.forWhom(name)}</p>
      <form onSubmit={submit} class="narrow">
        {error !== null && !fieldError && <Trouble error={error} texts={texts} />}
        <SecretField
          label={words.password.label}
          hint={words.password.hint}
          value={password}
          onValue={setPassword}
          error={fieldError}
          autoComplete="new-password"
        />
        <Button kind="main" type="submit" busy={busy}>
          {words.password.go}
        </Button>
      </form>
    </Page>
  );
}
