// @vitest-environment node
import { expect, it } from "vitest";
import { uuidv7 } from "./uuid";

it("writes the time, the version and the variant where RFC 9562 has them", () => {
  // The example of RFC 9562, A.6: 2022-02-22 19:22:22 GMT = 0x017F22E279B0.
  const id = uuidv7(0x017f22e279b0);
  expect(id).toMatch(/^017f22e2-79b0-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
});

it("sorts by time and never repeats", () => {
  const ids = Array.from({ length: 1000 }, (_, i) => uuidv7(1_700_000_000_000 + i));
  expect([...ids].sort()).toEqual(ids);
  expect(new Set(ids).size).toBe(ids.length);
});
