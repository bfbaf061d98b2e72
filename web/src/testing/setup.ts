import { cleanup } from "@testing-library/preact";
import { options } from "preact";
import { afterEach } from "vitest";

if (typeof document !== "undefined") {
  afterEach(cleanup);
  // Effects wait for no frame: a frame that is asked for when a test ends may
  // come when the page is gone already, and fails the run.
  (options as { requestAnimationFrame?: (run: () => void) => void }).requestAnimationFrame = (run) =>
    void setTimeout(run);
  // jsdom knows <dialog> but not its methods; the real ones are tried in e2e.
  HTMLDialogElement.prototype.showModal ??= function (this: HTMLDialogElement) {
    this.open = true;
  };
  HTMLDialogElement.prototype.close ??= function (this: HTMLDialogElement) {
    if (!this.open) return;
    this.open = false;
    this.dispatchEvent(new Event("close"));
  };
  // axe asks for a canvas to look for icon fonts; we have none.
  HTMLCanvasElement.prototype.getContext = () => null;
  window.scrollTo = () => undefined;
}

// Servers of the tests read requests as text; transport.test.ts has this back.
Reflect.deleteProperty(globalThis, "CompressionStream");
