import { noNetwork, problemOf } from "../api/problem";
import { withSession } from "../api/session";

/** bringRecord fetches the training record as CSV, as the person signed in: a plain link would go without the token. */
export async function bringRecord(lang: string, branch: string): Promise<Blob> {
  const query = new URLSearchParams({ lang, ...(branch ? { branch } : {}) });
  const { body } = await withSession(async (headers) => {
    const answer = await fetch(`/api/training/record.csv?${query}`, {
      method: "GET",
      credentials: "same-origin",
      headers,
    }).catch(() => {
      throw noNetwork();
    });
    if (!answer.ok) throw await problemOf(answer);
    return { status: answer.status, body: await answer.blob(), etag: null };
  });
  return body;
}

/** save hands a file to the person under a name. */
export function save(file: Blob, name: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = name;
  link.click();
  // The browser reads it after the press.
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
