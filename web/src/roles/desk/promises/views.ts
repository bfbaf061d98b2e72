/** The views of what the firm owes, in the order of their keys 1 to 5. */
export const promiseViews = ["call-backs", "mine", "all", "today", "overdue"] as const;
export type PromiseView = (typeof promiseViews)[number];

/** promiseViewOf reads a view from an address; anything else is the first. */
export function promiseViewOf(text: string | undefined): PromiseView {
  return promiseViews.find((v) => v === text) ?? "call-backs";
}

/** What a view asks the server for; the list of farms to call has an operation of its own. */
export function promiseQuery(view: Exclude<PromiseView, "call-backs">) {
  return {
    kept: "no" as const,
    limit: 200,
    ...(view === "mine" ? { mine: true } : {}),
    ...(view === "today" || view === "overdue" ? { due: view } : {}),
  };
}
