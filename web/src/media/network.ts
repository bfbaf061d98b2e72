import { signal } from "@preact/signals";

/** Over which network photos and voice notes may go; null was not asked yet. */
export type Allowed = "any" | "wifi" | null;

const key = "tendfold.media";

/** allowed is what the person chose on this phone. */
export const allowed = signal<Allowed>(kept());

function kept(): Allowed {
  const found = globalThis.localStorage?.getItem(key);
  return found === "any" || found === "wifi" ? found : null;
}

/** allow keeps the choice. */
export function allow(which: NonNullable<Allowed>): void {
  allowed.value = which;
  localStorage.setItem(key, which);
}

/** onWifiNow is the person's word that this network costs nothing, until the page is closed. */
export const onWifiNow = signal(false);

interface Connection extends EventTarget {
  type?: string;
}

/** connection is what the phone tells of its network, where it tells anything. */
export function connection(): Connection | undefined {
  return (navigator as { connection?: Connection }).connection;
}

/** Whether they may go now: yes, no, or the person has to say. */
export type May = "yes" | "no" | "ask";

/** mayGo decides by the choice and by what is known of the network. */
export function mayGo(chosen: Allowed, network: string | undefined, said: boolean): May {
  if (chosen === "any") return "yes";
  if (chosen === null) return "ask";
  if (network === "wifi" || network === "ethernet") return "yes";
  if (network === "cellular") return "no";
  return said ? "yes" : "ask";
}

/** mayGoNow is mayGo for this moment. */
export function mayGoNow(): May {
  return mayGo(allowed.value, connection()?.type, onWifiNow.value);
}
