import { waitFor } from "@testing-library/preact";
import { expect } from "vitest";
import { commands } from "../keyboard/commands";

/** heard waits until the page hears the key of a command: that is a moment after it was drawn. */
export async function heard(id: string): Promise<void> {
  await waitFor(() => expect(commands.value.map((c) => c.id)).toContain(id));
}
