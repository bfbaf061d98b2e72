import { noNetwork, problemOf } from "./problem";
import { withSession } from "./session";

/** bringFile fetches a file as the person signed in: a plain link would go without the token. */
export async function bringFile(path: string, query: Record<string, string>): Promise<Blob> {
  const { body } = await withSession(async (headers) => {
    const answer = await fetch(`${path}?${new URLSearchParams(query)}`, {
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

/** saveFile hands a file to the person under a name. */
export function saveFile(file: Blob, name: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = name;
  link.click();
  // The browser reads it after the press.
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
