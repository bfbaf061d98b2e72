import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import { api } from "../api/client";
import type { Pack, PackField, PackName, PackText } from "../api/types";
import { language } from "../i18n/language";
import type { Kind, Names } from "./reason";

/** said is a pack's text in the language spoken now. */
export function said(text: PackText | undefined): string {
  return text?.[language.value] || text?.en || "";
}

const kept = signal<Readonly<Record<string, Pack>>>({});
const underWay = new Map<string, Promise<void>>();

/** bringPack reads a pack once; a pack changes only when the server starts anew. */
export function bringPack(enterprise: string): Promise<void> {
  if (kept.peek()[enterprise]) return Promise.resolve();
  const found = underWay.get(enterprise);
  if (found) return found;
  const work = api
    .get("/api/packs/{enterprise}", { path: { enterprise } })
    .then(({ body }) => keepPack(enterprise, body))
    .finally(() => underWay.delete(enterprise));
  underWay.set(enterprise, work);
  return work;
}

/** keepPack puts a pack where screens look for it. */
export function keepPack(enterprise: string, pack: Pack): void {
  kept.value = { ...kept.peek(), [enterprise]: whole(pack) };
}

// Lists that a pack does not have may come as null.
function whole(pack: Pack): Pack {
  return {
    ...pack,
    claims: pack.claims ?? [],
    signs: pack.signs ?? [],
    go_aheads: (pack.go_aheads ?? []).map((g) => ({
      ...g,
      items: g.items ?? [],
      modules: g.modules ?? [],
      limits: g.limits ?? [],
    })),
  };
}

/** packOf is the pack of an enterprise, undefined until it has been brought. */
export function packOf(enterprise: string): Pack | undefined {
  return kept.value[enterprise];
}

/**
 * usePacks brings the packs of enterprises and redraws when they are there.
 * Without one the screen shows keys in place of names, so a failure is no
 * reason to show nothing.
 */
export function usePacks(enterprises: readonly string[]): void {
  const wanted = [...new Set(enterprises)].sort().join(" ");
  useEffect(() => {
    for (const one of wanted.split(" ").filter(Boolean)) bringPack(one).catch(() => undefined);
  }, [wanted]);
}

/** usePackList brings the names of all enterprises, and their packs with them. */
export function usePackList(): readonly PackName[] {
  const [list, setList] = useState<readonly PackName[]>([]);
  useEffect(() => {
    api
      .get("/api/packs")
      .then(({ body }) => setList(body.items))
      .catch(() => undefined);
  }, []);
  usePacks(list.map((p) => p.enterprise));
  return list;
}

function find(pack: Pack, kind: Kind, key: string): PackText | undefined {
  switch (kind) {
    case "milestone":
      return pack.milestones.find((m) => m.key === key)?.name;
    case "item":
      return pack.checklists.flatMap((list) => list.items).find((item) => item.key === key)?.text;
    case "module":
      return pack.modules.find((m) => m.key === key)?.name;
    case "work":
      return pack.daybook?.work.find((w) => w.key === key)?.name;
    case "go-ahead":
      return pack.go_aheads.find((g) => g.key === key)?.name;
    case "sign":
      return pack.signs.find((s) => s.key === key)?.text;
    default:
      return undefined;
  }
}

/** namesOf gives the words for keys from one pack, or from the first of all that knows them; `others` is asked first. */
export function namesOf(enterprise?: string, others?: Names): Names {
  return (kind, key) => {
    const known = others?.(kind, key);
    if (known) return known;
    const packs = enterprise ? [kept.value[enterprise]] : Object.values(kept.value);
    for (const pack of packs) {
      const text = pack && find(pack, kind, key);
      if (text) return said(text).replace(/\.$/, "");
    }
    return undefined;
  };
}

/** fieldOf is a field of the daybook, of one enterprise or of the first of all that has it. */
export function fieldOf(enterprise: string | undefined, key: string): PackField | undefined {
  const packs = enterprise ? [kept.value[enterprise]] : Object.values(kept.value);
  return packs
    .flatMap((pack) => pack?.daybook?.groups.flatMap((g) => g.fields) ?? [])
    .find((f) => f.key === key);
}

/** enterpriseName is what an enterprise is called; its key until the pack is there. */
export function enterpriseName(enterprise: string): string {
  return said(kept.value[enterprise]?.name) || enterprise;
}
