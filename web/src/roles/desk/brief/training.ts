import type { Pack, WorkerPage } from "../../../api/types";

/** Training is how far a caretaker is with the modules of an enterprise, on a day. */
export interface Training {
  all: number;
  passed: number;
  /** Keys of modules that were never passed, safety first. */
  missing: string[];
  /** Modules whose pass no longer holds. */
  lapsed: { module: string; until: string }[];
}

/** trainingOf counts a caretaker's passes that hold on a day. A pass holds until its last day, that day included. */
export function trainingOf(worker: WorkerPage, pack: Pack, on: string): Training {
  const of = (module: string) =>
    worker.passes
      .filter((p) => p.enterprise === pack.enterprise && p.module === module)
      .map((p) => p.until)
      .sort()
      .pop();
  const modules = [...pack.modules].sort((a, b) => Number(b.safety) - Number(a.safety));
  const state = modules.map(({ key }) => ({ module: key, until: of(key) }));
  const holds = (until: string | undefined) => until !== undefined && (until === "" || until >= on);
  return {
    all: modules.length,
    passed: state.filter((s) => holds(s.until)).length,
    missing: state.filter((s) => s.until === undefined).map((s) => s.module),
    lapsed: state.flatMap((s) =>
      s.until !== undefined && !holds(s.until) ? [{ module: s.module, until: s.until }] : [],
    ),
  };
}
