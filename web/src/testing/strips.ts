import type { Strip } from "../strip/data";

/** A snail unit that was planted late: sample data for tests and the gallery. */
export const lateHouse: Strip = {
  start: "2026-01-05",
  today: "2026-03-12",
  harvest: "first-harvest",
  slip: 19,
  milestones: [
    done("build-finished", "Build finished", "2026-01-05", "2026-01-02", "2026-01-05", "2026-01-08"),
    {
      key: "water-proved",
      name: "Water proved",
      state: "implied",
      window: w("2026-01-08", "2026-01-11", "2026-01-16"),
    },
    done("planted", "Planted", "2026-02-02", "2026-01-12", "2026-01-16", "2026-01-22"),
    next(
      "cover-ready",
      "Plant cover ready",
      "open",
      ["2026-02-12", "2026-02-28", "2026-03-14"],
      ["2026-03-16", "2026-03-24", "2026-04-04"],
    ),
    next(
      "caretaker-trained",
      "Caretaker trained",
      "open",
      ["2026-02-14", "2026-02-24", "2026-03-10"],
      ["2026-03-13", "2026-03-17", "2026-03-25"],
    ),
    next(
      "ready",
      "Ready to stock",
      "ahead",
      ["2026-02-20", "2026-03-07", "2026-03-22"],
      ["2026-03-22", "2026-04-01", "2026-04-14"],
    ),
    next(
      "stocked",
      "First stocking",
      "ahead",
      ["2026-02-26", "2026-03-14", "2026-04-01"],
      ["2026-03-30", "2026-04-09", "2026-04-26"],
    ),
    next(
      "half-year",
      "Half-year count",
      "ahead",
      ["2026-08-25", "2026-09-12", "2026-10-04"],
      ["2026-09-20", "2026-10-05", "2026-10-28"],
    ),
    next(
      "first-harvest",
      "First harvest",
      "ahead",
      ["2026-12-20", "2027-02-10", "2027-04-02"],
      ["2027-01-12", "2027-03-01", "2027-05-04"],
    ),
  ],
};

function w(earliest: string, target: string, latest: string) {
  return { earliest, target, latest };
}

function done(key: string, name: string, on: string, ...band: [string, string, string]) {
  return { key, name, state: "done" as const, done_on: on, window: w(...band) };
}

function next(
  key: string,
  name: string,
  state: "open" | "ahead",
  band: [string, string, string],
  [p10, p50, p90]: [string, string, string],
) {
  return { key, name, state, window: w(...band), expected: { p10, p50, p90 } };
}
