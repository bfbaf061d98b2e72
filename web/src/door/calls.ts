// What the ways in ask of the server. Nobody is signed in yet, so these go
// without a token.
import { signal } from "@preact/signals";
import { Problem } from "../api/problem";
import { begin, type Grant, person, proveWith } from "../api/session";
import { send } from "../api/transport";
import { device, devices, enrol, forget, noteContact, prove } from "../phonekey/phone";

interface PhoneGrant extends Grant {
  device_id: string;
  session_id: string;
}

/** revoked says that this phone was emptied because the firm no longer lets it in. */
export const revoked = signal(false);

/** What a link is for, and for whom. */
export interface WayIn {
  name: string;
  purpose: "phone" | "password" | "reset";
}

/** What a person holds to get in: the secret of a link, or a code that was read out. */
export type Ticket = { secret: string } | { code: string };

/** lookAt says for whom a link is; it spends nothing. */
export async function lookAt(secret: string): Promise<WayIn> {
  return (await send<WayIn>("POST", "/api/way-in/look", { body: { secret } })).body;
}

async function nonce(): Promise<string> {
  return (await send<{ nonce: string }>("POST", "/api/nonce")).body.nonce;
}

// The session of the phone's key that is open now; another person's key has another.
let session: { id: string; device: string } | undefined;

function note(grant: PhoneGrant): void {
  session = { id: grant.session_id, device: grant.device_id };
}

// What each contact is good for besides: the 75 days begin anew, and the key
// to which entries are sealed is renewed. Nothing waits for it.
function met(): void {
  noteContact()
    .then(async () => {
      const { renewKey, sealRest } = await import("../lock/sealing");
      await renewKey();
      const who = person.peek();
      if (who) await sealRest(who.id);
    })
    .catch(() => undefined);
}

/** enrolPhone spends the ticket: this phone is the person's from now on, and signed in. */
export async function enrolPhone(ticket: Ticket, pin: string): Promise<void> {
  const before = await devices();
  await enrol(pin, nonce, async ({ publicKey, proof }) => {
    const body = { ...ticket, key: JSON.stringify(publicKey), proof, name: nameOfPhone(), before };
    const grant = (await send<PhoneGrant>("POST", "/api/way-in/phone", { body })).body;
    note(grant);
    begin(grant);
    return { device: grant.device_id, person: grant.person };
  });
  proveWith(refreshPhone);
  met();
}

// The system and the browser, as far as the browser tells: enough to know
// one's phone again in a list.
function nameOfPhone(): string {
  return /\(([^)]+)\)/.exec(navigator.userAgent)?.[1]?.slice(0, 80) ?? "";
}

/** refreshPhone renews the session of an unlocked phone, or begins one: its key is all it needs. */
export async function refreshPhone(): Promise<Grant> {
  const id = device();
  if (session && session.device === id) {
    const proof = await prove("refresh", session.id, await nonce());
    const renewed = await send<PhoneGrant>("POST", "/api/refresh", { body: { proof } }).catch(() => null);
    if (renewed) {
      met();
      return renewed.body;
    }
  }
  const proof = await prove("sign-in", id ?? "", await nonce());
  const body = { device_id: id, proof };
  const grant = (await send<PhoneGrant>("POST", "/api/sign-in/phone", { body }).catch(turnedAway)).body;
  note(grant);
  met();
  return grant;
}

// The firm has taken the phone's key away, or the person is no longer with us.
async function turnedAway(error: unknown): Promise<never> {
  const who = person.peek();
  if (error instanceof Problem && error.code === "device-revoked" && who) {
    revoked.value = true;
    await forget(who.id);
  }
  throw error;
}

/** reportWrongPin tells the server of wrong PINs in a row, so that the firm sees a stolen phone. */
export async function reportWrongPin(failures: number, device_id: string): Promise<void> {
  await send("POST", "/api/way-in/wrong-pin", { body: { failures, device_id } });
}

/** choosePassword spends a link for a password and answers the name to sign in with. */
export async function choosePassword(secret: string, password: string): Promise<string> {
  return (await send<{ login: string }>("POST", "/api/way-in/password", { body: { secret, password } })).body
    .login;
}
