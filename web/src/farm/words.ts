import { area } from "../i18n/language";
import type { FarmMessages } from "./en";

/** farmWords are the words of standings, tickets, strips and reasons: one set for every role that sees a farm. */
export const farmWords = area<FarmMessages>({
  en: () => import("./en"),
  fr: () => import("./fr"),
});

/** The standings of a cycle and a farm. */
export type Standing = keyof FarmMessages["standing"];
/** The urgencies of a ticket, highest first in the messages. */
export type Urgency = keyof FarmMessages["urgency"];
/** The states of a ticket. */
export type TicketState = keyof FarmMessages["state"];
/** Whom a waiting ticket waits for. */
export type WaitingOn = keyof FarmMessages["waitingOn"];
