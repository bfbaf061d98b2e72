import type { TodayUnit } from "./compose";
import { inHand } from "./in-hand";
import { requestTask, type View } from "./overlay";
import type { Doing } from "./pictures";
import { phoneWords } from "./words";

/** A Task is one thing that is to be done today, with the page on which it is done. */
export interface Task {
  /** The same on every day and every phone: what "I could not do it" names. */
  id: string;
  picture: Doing | string;
  title: string;
  note?: string | undefined;
  href: string;
  /** Looked at already; it stays in sight, and no longer counts as open. */
  done?: boolean;
  /** A caretaker can say that this could not be done. */
  canFail?: boolean;
}

/** tasksOf are the things to do on the day that it is, what is asked for first in front. */
export function tasksOf(farm: View): Task[] {
  const now = inHand(farm, farm.on);
  const units = now.units.filter((u) => u.cycle_id);
  const named = (unit: TodayUnit, text = "") =>
    units.length > 1 ? [unit.name, text].filter(Boolean).join(". ") : text;
  return [
    ...today(farm),
    ...asked(farm),
    ...requests(farm),
    ...missing(farm),
    ...units.flatMap((u) => [
      ...milestones(u, named),
      ...work(u, named).map((t) => failed(t, farm)),
      ...lists(u, named),
    ]),
    ...modules(farm),
  ];
}

type Named = (unit: TodayUnit, text?: string) => string;

function today(farm: View): Task[] {
  const words = phoneWords();
  if (!farm.stocked || farm.written_on.includes(farm.on)) return [];
  return [{ id: "day", picture: "book", title: words.todo.day, href: "/today/daybook", canFail: true }];
}

// What the firm asked of this caretaker: a report of theirs waits for the farm.
function asked(farm: View): Task[] {
  const words = phoneWords();
  return farm.reports
    .filter((r) => r.state === "waiting" && r.waiting_on === "farm")
    .map((r) => ({
      id: `report:${r.id}`,
      picture: "reports",
      title: words.todo.answer,
      note: [...r.messages].reverse().find((m) => !m.mine)?.text ?? r.text,
      href: `/today/report/${r.id}`,
    }));
}

// What the firm asked the people of the farm to do, each from its day on.
function requests(farm: View): Task[] {
  const words = phoneWords().asked;
  return farm.requests
    .filter((r) => (r.from ?? "") <= farm.on)
    .map((r) => ({
      id: `${requestTask}${r.id}`,
      picture: "text",
      title: r.text,
      note: words.by(r.by, r.due_on),
      href: `/today/asked/${r.id}`,
      canFail: true,
    }));
}

function missing(farm: View): Task[] {
  const n = farm.missing_days.length;
  if (n === 0) return [];
  return [
    { id: "missing", picture: "book", title: phoneWords().daybook.missingDays(n), href: "/today/missing" },
  ];
}

function milestones(u: TodayUnit, named: Named): Task[] {
  return u.milestones.map((m) => ({
    id: `milestone:${u.cycle_id}:${m.key}`,
    picture: "step",
    title: m.name,
    note: named(u, phoneWords().milestone.nextStep),
    href: `/today/milestone/${u.cycle_id}/${m.key}`,
  }));
}

function work(u: TodayUnit, named: Named): Task[] {
  return u.work.map((w) => ({
    id: `work:${u.cycle_id}:${w.key}`,
    picture: w.drawing,
    title: w.name,
    note: named(u),
    href: pageOf(u.cycle_id ?? "", w),
    canFail: true,
  }));
}

/** pageOf is where a piece of work is done. */
export function pageOf(cycle: string, work: { key: string; does?: string | undefined }): string {
  if (work.does === "cover") return `/today/reading/${cycle}`;
  if (work.does === "weigh") return `/today/weigh/${cycle}`;
  return `/today/task/${cycle}/${work.key}`;
}

function lists(u: TodayUnit, named: Named): Task[] {
  return u.checklists.map((list) => {
    const open = list.items.filter((i) => !i.mark).length;
    return {
      id: `list:${u.cycle_id}:${list.key}`,
      picture: "list",
      title: list.name,
      note: named(u, phoneWords().todo.list(open, list.items.length)),
      href: `/today/list/${u.cycle_id}/${list.key}`,
      done: open === 0,
    };
  });
}

function modules(farm: View): Task[] {
  const words = phoneWords().module;
  const open = farm.modules.filter((m) => !m.read_on && !m.answered_on).length;
  const waits = farm.modules.length - open;
  if (farm.modules.length === 0) return [];
  const note = [open > 0 && words.open(open), waits > 0 && words.waits(waits)].filter(Boolean).join(", ");
  return [
    { id: "modules", picture: "learn", title: words.title, note, href: "/today/modules", done: open === 0 },
  ];
}

// What could not be done today was told; it is asked for again tomorrow.
function failed(task: Task, farm: View): Task {
  const reason = farm.couldNot[task.id];
  if (!reason) return task;
  const { todo, couldNot } = phoneWords();
  const why = couldNot.reasons[reason as keyof typeof couldNot.reasons] ?? reason;
  return { ...task, note: todo.couldNot(why), done: true };
}
