import type { Event, FarmPage, PackField } from "../../api/types";
import { formats } from "../../i18n/format";
import { said } from "../packs";
import type { Names } from "../reason";
import { farmWords } from "../words";
import { withMeasure } from "./measured";
import { pageWords } from "./words";

/** Happened is an entry in words: what, and the details below it. */
export interface Happened {
  what: string;
  more: string[];
}

type Data = Record<string, unknown>;

const text = (data: Data, name: string) => (typeof data[name] === "string" ? (data[name] as string) : "");
const count = (data: Data, name: string) =>
  typeof data[name] === "number" && Number.isFinite(data[name]) ? (data[name] as number) : null;

/** What the sentences need to know beside the entry. */
export interface Around {
  names: Names;
  /** A field of the daybook, where the pack that has it is at hand. */
  field?: (key: string) => PackField | undefined;
  people: FarmPage["people"];
  snags: FarmPage["snags"];
}

/** happenedOf puts an entry into words; what it does not know of is named by its kind, never hidden. */
export function happenedOf(event: Pick<Event, "kind" | "data">, around: Around): Happened {
  const data = (typeof event.data === "object" && event.data !== null ? event.data : {}) as Data;
  const what = whatOf(event.kind, data, around);
  const grade = gradeWords(text(data, "grade"));
  return { what, more: [...detailsOf(event.kind, data, around), grade, text(data, "note")].filter(Boolean) };
}

function gradeWords(grade: string): string {
  const grades: Record<string, string> = farmWords().grade;
  return grades[grade] ?? "";
}

function whatOf(kind: string, data: Data, around: Around): string {
  const { kinds, couldNot, aModule, aSnag, aSign } = pageWords().timeline;
  const answers = pageWords().checklist.answers;
  const name = (of: "milestone" | "item" | "module" | "sign" | "work", key: string) =>
    around.names(of, key) ?? key.replace(/-/g, " ");
  switch (kind) {
    case "milestone": {
      const step = name("milestone", text(data, "milestone"));
      return data.anyway === true ? kinds["milestone-anyway"](step) : kinds.milestone(step);
    }
    case "not-done":
      return kinds["not-done"](name("milestone", text(data, "milestone")));
    case "item": {
      const value = count(data, "value");
      const answer = text(data, "answer");
      const told = value !== null ? formats().number(value, 2) : (answers[answer] ?? answer);
      return kinds.item(name("item", text(data, "item")), told);
    }
    case "cover":
      return kinds.cover(count(data, "percent") ?? 0);
    case "weights":
      return kinds.weights(...sampleOf(data));
    case "day":
      return data.all_well === true ? kinds["all-well"] : kinds.day;
    case "could-not": {
      const why = couldNot[text(data, "reason")] ?? text(data, "reason");
      const task = text(data, "task").split(":").pop() ?? "";
      return task ? kinds["task-not"](taskName(task, around.names), why) : kinds["could-not"](why);
    }
    case "work":
      return kinds.work(name("work", text(data, "work")));
    case "trouble":
      return kinds.trouble(data.sign ? name("sign", text(data, "sign")) : text(data, "note") || aSign);
    case "module":
    case "answers":
    case "module-read":
      return kinds[kind](name("module", text(data, "module")) || aModule, who(data, around));
    case "stocking":
      return kinds.stocking(count(data, "count") ?? 0, text(data, "species").replace(/-/g, " "));
    case "snag":
      return kinds.snag(text(data, "text"));
    case "snag-mended":
      return kinds["snag-mended"](
        around.snags.find((s) => s.id === text(data, "snag_id"))?.text ?? text(data, "text") ?? aSnag,
      );
    case "pause":
      return kinds.pause(text(data, "until"));
    case "note":
    case "call-me":
    case "pause-agreed":
    case "pause-ended":
    case "request":
    case "visit":
    case "intake":
      return kinds[kind];
    default:
      return kinds.other(kind);
  }
}

// A key of the pack as people may read it, where its name is not at hand.
function plain(key: string): string {
  return key.replace(/[-_]/g, " ");
}

// A task is work that comes again, or a milestone; its key tells which by being known.
function taskName(task: string, names: Names): string {
  return names("work", task) ?? names("milestone", task) ?? plain(task);
}

// Fields of the pack that have no sentence of their own, and what was asked back and meant.
const told = [
  "all_well",
  "note",
  "sure",
  "media",
  "source",
  "written_by",
  "deaths",
  "missing",
  "eggs",
  "hatchlings",
  "feed_kg",
  "water_l",
];

function fieldsOf(data: Data, around: Around): string[] {
  const { kinds } = pageWords().timeline;
  const sure = Array.isArray(data.sure) && data.sure.length > 0 ? [kinds.sure] : [];
  const others = Object.entries(data)
    .filter(([name, value]) => !told.includes(name) && (Number.isFinite(value) || typeof value === "string"))
    .map(([name, value]) => {
      const field = around.field?.(name);
      return kinds.field(field ? said(field.name) : plain(name), valueWords(field, value));
    });
  return [...others, ...sure];
}

// A value in its measure, an answer by its name, a day as people write it.
function valueWords(field: PackField | undefined, value: unknown): string {
  if (typeof value === "number")
    return field?.measure ? withMeasure(value, field.measure) : formats().number(value, 2);
  const words = String(value);
  if (field?.kind === "date") return formats().date(words);
  if (field?.kind === "text") return words;
  const chosen = field?.choices?.find((c) => c.key === words);
  return chosen ? said(chosen.name) : plain(words);
}

function sourceOf(data: Data, around: Around): string[] {
  if (data.source !== "paper") return [];
  const { someone, kinds } = pageWords().timeline;
  return [kinds.paper(around.people.find((p) => p.person_id === data.written_by)?.name ?? someone)];
}

function who(data: Data, { people }: Around): string {
  const id = text(data, "person_id");
  return people.find((p) => p.person_id === id)?.name ?? pageWords().timeline.someone;
}

function sampleOf(data: Data): [number, string] {
  const weights = Array.isArray(data.weights_g) ? data.weights_g.filter((w) => typeof w === "number") : [];
  const mean = weights.length > 0 ? sum(weights) / weights.length : (count(data, "mean_g") ?? 0);
  return [weights.length || (count(data, "n") ?? 0), formats().measure(mean, "g", 1)];
}

function sum(values: readonly number[]): number {
  return values.reduce((total, v) => total + v, 0);
}

function detailsOf(kind: string, data: Data, around: Around): string[] {
  const { kinds } = pageWords().timeline;
  const counted = (name: string, words: (n: number) => string) => {
    const n = count(data, name);
    return n === null ? "" : words(n);
  };
  switch (kind) {
    case "day":
      return [
        counted("deaths", kinds.deaths),
        counted("missing", kinds.missing),
        counted("eggs", kinds.eggs),
        counted("hatchlings", kinds.hatchlings),
        counted("feed_kg", kinds.feed),
        counted("water_l", kinds.water),
        ...fieldsOf(data, around),
        ...sourceOf(data, around),
      ];
    case "pause":
      return [text(data, "reason")];
    case "visit":
      return [text(data, "findings")];
    default:
      return [];
  }
}
