import { useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { Page } from "../shell/page";
import { Button } from "../ui/button";
import { TextField } from "../ui/field";
import { certificateWords } from "./words";

// Sixteen characters, with room for what people put between them.
const longest = 40;

/** TypeCode asks for the code of a certificate. */
export function TypeCode() {
  return (
    <Page title={certificateWords().title}>
      <CodeForm />
    </Page>
  );
}

/** CodeForm takes a code as people type it and goes to what it is worth. */
export function CodeForm({ code = "" }: { code?: string }) {
  const words = certificateWords();
  const { route } = useLocation();
  const [typed, setTyped] = useState(code);
  const [empty, setEmpty] = useState(false);
  const go = (event: Event) => {
    event.preventDefault();
    const wanted = typed.trim();
    setEmpty(wanted === "");
    if (wanted) route(`/certificates/${encodeURIComponent(wanted)}`);
  };
  return (
    <form onSubmit={go} noValidate>
      <TextField
        label={words.code}
        hint={words.how}
        value={typed}
        onValue={setTyped}
        error={empty ? words.codeEmpty : undefined}
        input={{ maxLength: longest, autoComplete: "off", spellcheck: false }}
      />
      <Button kind="main" type="submit">
        {words.check}
      </Button>
    </form>
  );
}
