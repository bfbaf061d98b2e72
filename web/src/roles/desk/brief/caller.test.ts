// @vitest-environment node
import { describe, expect, it } from "vitest";
import { smallFarm, smallPack } from "../../../testing/farm";
import { callerOf, whoOf } from "./caller";
import { trainingOf } from "./training";

describe("the caller", () => {
  const farm = { ...smallFarm, owner: { ...smallFarm.owner, owner_id: "p9" } };
  it("is a caretaker of the farm", () => {
    expect(callerOf(farm, "p2", "")).toEqual({
      kind: "caretaker",
      name: "Eposi Njoh",
      phone: "+237550000002",
      inCharge: true,
      since: "2026-01-05",
      language: "en",
    });
  });
  it.each(["client", "p9"])("is the client when found as %s", (who) => {
    expect(callerOf(farm, who, "")).toMatchObject({ kind: "client", name: "Njoh Family" });
    expect(whoOf(farm, who)).toBe("client");
  });
  it.each(["", "p7"])("is nobody we know when found as %j", (who) => {
    expect(callerOf(farm, who, "+237 5")).toEqual({ kind: "unknown", phone: "+237 5" });
    expect(whoOf(farm, who)).toBe("");
  });
});

describe("training", () => {
  const [worker] = smallFarm.people;
  if (!worker) throw new Error("the small farm has a caretaker");
  it("counts what holds on the day, its last day included", () => {
    expect(trainingOf(worker, smallPack, "2026-02-01")).toEqual({
      all: 2,
      passed: 1,
      missing: ["feeding"],
      lapsed: [],
    });
  });
  it("names what has lapsed", () => {
    expect(trainingOf(worker, smallPack, "2026-02-02")).toMatchObject({
      passed: 0,
      lapsed: [{ module: "moving-safely", until: "2026-02-01" }],
    });
  });
  it("goes by the latest pass", () => {
    const [pass] = worker.passes;
    if (!pass) throw new Error("the caretaker has a pass");
    const again = { ...worker, passes: [{ ...pass, until: "2027-01-01" }, pass] };
    expect(trainingOf(again, smallPack, "2026-03-01").passed).toBe(1);
  });
});
