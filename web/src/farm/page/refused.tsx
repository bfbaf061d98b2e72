import { Problem } from "../../api/problem";
import { CheckField } from "../../ui/field";
import type { Names } from "../reason";
import { MissingList } from "./missing";
import type { GoAhead, Missing } from "./steps";
import { pageWords } from "./words";

/**
 * Refused says what a go-ahead lacks when the server refused a step for it, and
 * offers to mark the step anyway. It shows nothing for any other failure.
 */
export function Refused({
  error,
  goAhead,
  names,
  anyway,
  setAnyway,
}: {
  error: unknown;
  goAhead: GoAhead | null;
  names: Names;
  anyway: boolean;
  setAnyway: (anyway: boolean) => void;
}) {
  const words = pageWords().form.milestone;
  if (!(error instanceof Problem) || error.code !== "go-ahead-missing") return null;
  return (
    <section class="refused">
      <p>{words.missing}</p>
      <MissingList missing={missingIn(error, goAhead)} names={names} />
      <p>{words.missingHelp}</p>
      <CheckField label={words.anyway} checked={anyway} onChecked={setAnyway} />
    </section>
  );
}

/** missingIn is what the refusal names; where it names nothing, what the page knew. */
export function missingIn(problem: Problem, goAhead: GoAhead | null): Missing[] {
  const named = problem.fields
    .map(({ code, text }) => ({ code, thing: thingIn(text) }))
    .filter((m) => m.thing);
  return named.length > 0 ? named : (goAhead?.missing ?? []);
}

// The server lists the three kinds of key side by side, empty ones as <nil>.
function thingIn(text: string): string {
  return text.replace(/<nil>/g, " ").trim().split(/\s+/)[0] ?? "";
}
