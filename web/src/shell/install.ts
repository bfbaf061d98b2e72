import { signal } from "@preact/signals";

interface InstallEvent extends Event {
  prompt(): Promise<unknown>;
}

/** waitingInstall is the browser's offer to put the app on the device; it comes early, so it is caught here. */
export const waitingInstall = signal<InstallEvent | null>(null);

/** watchInstall keeps the offer until somebody presses the button for it. */
export function watchInstall(): void {
  window.addEventListener("beforeinstallprompt", (event) => {
    event.preventDefault();
    waitingInstall.value = event as InstallEvent;
  });
  window.addEventListener("appinstalled", () => {
    waitingInstall.value = null;
  });
}

/** offerInstall lets the browser ask; an offer can be used once. */
export async function offerInstall(): Promise<void> {
  const offer = waitingInstall.peek();
  waitingInstall.value = null;
  await offer?.prompt();
}
