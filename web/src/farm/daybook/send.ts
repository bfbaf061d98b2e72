import type { components } from "../../api/api.gen";
import { api } from "../../api/client";
import { type Column, changed, type DaybookPage } from "./sheet";

type Receipt = components["schemas"]["SyncReceipt"];

/** What a day becomes when it is sent. */
export type DataOf = (column: Column) => Record<string, unknown>;

/**
 * sendPage sends every changed day at once and answers the days as they stand
 * afterwards. Ids were made before, so what is sent again after an answer that
 * was lost is kept once. `newId` is for what comes after.
 */
export async function sendPage(
  page: DaybookPage,
  columns: readonly Column[],
  dataOf: DataOf,
  newId: () => string,
): Promise<Column[]> {
  const open = columns.filter(changed);
  if (open.length === 0) return [...columns];
  const receipts = await send(page, open, dataOf);
  const after = columns.map((c) => told(c, receipts.get(c.id), newId));
  // Typed on after an answer that was lost: the first try is on record, and this corrects it.
  const again = after.filter((c) => "again" in c.refused);
  if (again.length === 0) return after;
  const second = await send(page, again, dataOf);
  return after.map((c) => ("again" in c.refused ? told(c, second.get(c.id), newId) : c));
}

async function send(
  page: DaybookPage,
  columns: readonly Column[],
  dataOf: DataOf,
): Promise<Map<string, Receipt>> {
  const entries = columns.map((c) => ({
    id: c.id,
    farm_id: page.farm_id,
    unit_id: page.unit_id,
    kind: "day",
    on: c.on,
    ...(c.before ? { replaces: c.before } : {}),
    data: dataOf(c),
  }));
  const { body } = await api.post("/api/sync", { body: { sent_at: new Date().toISOString(), entries } });
  return new Map(body.receipts.map((r) => [r.id, r]));
}

function told(column: Column, receipt: Receipt | undefined, newId: () => string): Column {
  if (!receipt) return column;
  if (receipt.state === "kept" || receipt.state === "kept-before")
    return { ...column, id: newId(), before: column.id, was: column.typed, refused: {}, kept: true };
  if (receipt.state === "later") return { ...column, refused: { "": "later" } };
  const code = receipt.problem?.code ?? "";
  if (code === "event-id-taken")
    return { ...column, id: newId(), before: column.id, refused: { again: code } };
  const fields = (receipt.problem?.fields ?? []).map((f) => [f.path.replace(/^data\./, ""), f.code] as const);
  return { ...column, refused: fields.length > 0 ? Object.fromEntries(fields) : { "": code } };
}
