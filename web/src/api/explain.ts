import { shared } from "../i18n/shared/words";
import { Problem } from "./problem";

/** explain puts a failure into words: by its code where we have a text, else by what the server said. */
export function explain(error: unknown): string {
  const { problems } = shared();
  if (!(error instanceof Problem)) return problems.internal ?? "";
  return problems[error.code] ?? (error.message || problems[`status-${error.status}`]) ?? "";
}

/** explainField gives the text for one field of a form, or undefined where the server found nothing wrong with it. */
export function explainField(error: unknown, path: string): string | undefined {
  if (!(error instanceof Problem)) return undefined;
  const field = error.fields.find((f) => f.path === path);
  return field && (shared().problems[field.code] ?? field.text);
}
