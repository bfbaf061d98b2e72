import type { Role } from "../api/session";
import { certificateWords } from "../certificate/words";
import { doorWords } from "../door/words";
import { pageWords } from "../farm/page/words";
import { visitWords } from "../farm/visits/words";
import { farmWords } from "../farm/words";
import { firstRunWords } from "../first-run/words";
import type { Area as Words } from "../i18n/language";
import { lockWords } from "../lock/words";
import { deskWords } from "../roles/desk/words";
import { managerWords } from "../roles/manager/words";
import { mineWords } from "../roles/mine/words";
import { officeWords } from "../roles/office/words";
import { phoneWords } from "../roles/phone/words";
import { roundWords } from "../roles/round/words";
import type { PageEntry } from "./page-list";

/** How the hand reaches the screen; tokens.css has the size of targets and text for each. */
export type Reach = "desk" | "field" | "phone";

/** A Part of the app is loaded when somebody goes there: its pages and, side by side, its words. */
export interface Part {
  base: string;
  /** Who may go there; empty for everybody, signed in or not. */
  roles: readonly Role[];
  /** undefined takes the reach of the person's own role. */
  reach?: Reach;
  load: () => Promise<readonly PageEntry[]>;
}

function part(
  base: string,
  roles: readonly Role[],
  reach: Reach | undefined,
  pages: () => Promise<{ pages: readonly PageEntry[] }>,
  ...words: Words<unknown>[]
): Part {
  const load = async () => {
    const [found] = await Promise.all([pages(), ...words.map((w) => w.load())]);
    return found.pages;
  };
  return { base, roles, load, ...(reach ? { reach } : {}) };
}

const staff: readonly Role[] = ["manager", "advisor", "field-officer", "administrator"];

const manager = part(
  "/manager",
  ["manager"],
  "desk",
  () => import("../roles/manager/pages"),
  managerWords,
  farmWords,
  visitWords,
);
const desk = part("/desk", ["advisor"], "desk", () => import("../roles/desk/pages"), deskWords, farmWords);
const today = part("/today", ["caretaker"], "phone", () => import("../roles/phone/pages"), phoneWords);
const round = part(
  "/round",
  ["field-officer"],
  "field",
  () => import("../roles/round/pages"),
  roundWords,
  farmWords,
  visitWords,
);
const mine = part("/mine", ["owner"], "field", () => import("../roles/mine/pages"), mineWords, farmWords);
const office = part(
  "/office",
  ["administrator", "manager"],
  "desk",
  () => import("../roles/office/pages"),
  officeWords,
  farmWords,
);
const farm = part(
  "/farms",
  staff,
  undefined,
  () => import("../farm/pages"),
  farmWords,
  pageWords,
  visitWords,
);
const door = (base: string) => part(base, [], "field", () => import("../door/pages"), doorWords);
const leave = part("/leave", [], "phone", () => import("../lock/pages"), lockWords);
const certificates = part(
  "/certificates",
  [],
  "field",
  () => import("../certificate/pages"),
  certificateWords,
);
const firstRun = part(
  "/first-run",
  [],
  "field",
  () => import("../first-run/pages"),
  firstRunWords,
  doorWords,
  lockWords,
);

/** homes are the parts that a role begins in, the first of a person's roles first. */
export const homes: Record<Role, Part> = {
  manager,
  advisor: desk,
  caretaker: today,
  "field-officer": round,
  owner: mine,
  administrator: office,
};

/** parts are all of the app by the start of their address. */
export const parts: readonly Part[] = [
  manager,
  desk,
  today,
  round,
  mine,
  office,
  farm,
  door("/signin"),
  door("/enrol"),
  leave,
  certificates,
  firstRun,
];

/** partOf is the part that an address belongs to. */
export function partOf(path: string): Part | undefined {
  return parts.find((p) => path === p.base || path.startsWith(`${p.base}/`));
}

/** cached names the parts that the service worker keeps for a role, by their folder. */
export const folders: Record<Role, string> = {
  manager: "manager",
  advisor: "desk",
  caretaker: "phone",
  "field-officer": "round",
  owner: "mine",
  administrator: "office",
};
