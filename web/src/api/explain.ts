import { shared } from "../i18n/shared/words";
import { Problem } from "./problem";

/** Texts by the code of a problem. */
export type Texts = Record<string, string>;

/**
 * explain puts a failure into words: by its code where we have a text (an
 * area's own in `more` come first), else by what the server said.
 */
export function explain(error: unknown, more: Texts = {}): string {
  const { problems } = shared();
  if (!(error instanceof Problem)) return problems.internal ?? "";
  const known = more[error.code] ?? problems[error.code];
  return known ?? (error.message || problems[`status-${error.status}`] || error.code);
}

/** explainField gives the text for one field of a form, undefined where the server found nothing wrong with it. */
export function explainField(error: unknown, path: string, more: Texts = {}): string | undefined {
  if (!(error instanceof Problem)) return undefined;
  const field = error.fields.find((f) => f.path === path);
  return field && (more[field.code] ?? shared().problems[field.code] ?? field.text);
}
