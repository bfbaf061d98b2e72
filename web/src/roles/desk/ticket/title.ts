import type { TicketLine } from "../../../api/types";
import { namesOf } from "../../../farm/packs";
import { tellReasons } from "../../../farm/told";
import { farmWords } from "../../../farm/words";

/** titleOf is what a ticket is about in one line: what a person typed, else the first reason of its rule, else the rule's name. */
export function titleOf(ticket: TicketLine): string {
  if (ticket.title) return ticket.title;
  const told = tellReasons(ticket.reasons, namesOf()).first;
  const rules: Record<string, string> = farmWords().rules;
  return told || rules[ticket.rule] || ticket.rule;
}
