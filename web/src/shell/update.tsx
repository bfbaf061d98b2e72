import { signal } from "@preact/signals";
import { roles } from "../api/session";
import { shared } from "../i18n/shared/words";
import { Button } from "../ui/button";
import { folders } from "./areas";

const waiting = signal<ServiceWorker | null>(null);

/** UpdateLine offers a new version; it never comes unasked, for it would reload the page under the person's hands. */
export function UpdateLine() {
  if (!waiting.value) return null;
  const words = shared().update;
  return (
    <div class="update" role="status">
      <span>{words.ready}</span>
      <Button onClick={takeOver}>{words.take}</Button>
    </div>
  );
}

function takeOver(): void {
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  waiting.peek()?.postMessage({ type: "take-over" });
}

/** watchForUpdates registers the service worker and notices the one that waits. */
export async function watchForUpdates(): Promise<void> {
  if (!("serviceWorker" in navigator) || !import.meta.env.PROD) return;
  const registration = await navigator.serviceWorker.register("/sw.js");
  const note = (worker: ServiceWorker | null) => {
    if (worker && navigator.serviceWorker.controller) waiting.value = worker;
  };
  note(registration.waiting);
  registration.addEventListener("updatefound", () => {
    const coming = registration.installing;
    coming?.addEventListener("statechange", () => coming.state === "installed" && note(coming));
  });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") registration.update().catch(() => undefined);
  });
}

/** keepRoles tells the service worker whose pages this device keeps. */
export async function keepRoles(): Promise<void> {
  if (!("serviceWorker" in navigator) || !import.meta.env.PROD) return;
  const { active } = await navigator.serviceWorker.ready;
  active?.postMessage({ type: "roles", roles: roles.value.map((role) => folders[role]) });
}

// A page that was open before a release may ask for a file that is gone: let
// the new version in and start again, once.
const triedKey = "tendfold.reloaded";

/** healStaleFiles reloads a page whose files a release has replaced; twice in a minute would be another fault. */
export function healStaleFiles(): void {
  window.addEventListener("vite:preloadError", (event) => {
    const last = Number(sessionStorage.getItem(triedKey) ?? 0);
    if (Date.now() - last < 60_000) return;
    event.preventDefault();
    sessionStorage.setItem(triedKey, String(Date.now()));
    if (waiting.peek()) takeOver();
    else location.reload();
  });
}
