import { api } from "../../../api/client";
import type { FarmPage, TicketLine } from "../../../api/types";
import { bringPack } from "../../../farm/packs";
import type { CallLine, PromiseLine } from "../server";

/** Everything that the six lines of a farm need, read at once. */
export interface BriefData {
  farm: FarmPage;
  tickets: TicketLine[];
  calls: CallLine[];
  promises: PromiseLine[];
}

/** readBrief reads a farm, what is open there and what was said; the names of its milestones come along. */
export async function readBrief(id: string, signal: AbortSignal): Promise<BriefData> {
  const path = { id };
  const [farm, tickets, calls, promises] = await Promise.all([
    api.get("/api/farms/{id}", { path, signal }),
    api.get("/api/tickets", { query: { farm: id, limit: 50 }, signal }),
    api.get("/api/calls", { query: { farm: id, limit: 20 }, signal }),
    api.get("/api/promises", { query: { farm: id, kept: "no", limit: 50 }, signal }),
  ]);
  const enterprises = [...new Set(farm.body.units.map((u) => u.enterprise))];
  await Promise.all(enterprises.map((e) => bringPack(e).catch(() => undefined)));
  return {
    farm: farm.body,
    tickets: tickets.body.items,
    calls: calls.body.items,
    promises: promises.body.items,
  };
}

/** lastAdvice is the newest call on which something was advised. */
export function lastAdvice(calls: readonly CallLine[]): CallLine | undefined {
  return calls.find((c) => c.advice !== "");
}
