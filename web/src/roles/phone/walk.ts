import { signal } from "@preact/signals";

/** walk is the page from which a task was begun, and to which it leads back. */
export const walk = signal("/today");
