// What the ways in ask of the server. Nobody is signed in yet, so these go
// without a token.
import { begin, type Grant, proveWith } from "../api/session";
import { send } from "../api/transport";
import { deviceId, enrol, prove } from "../phonekey/phone";

interface PhoneGrant extends Grant {
  device_id: string;
  session_id: string;
}

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

let sessionId: string | undefined;

function start(grant: PhoneGrant): void {
  sessionId = grant.session_id;
  begin(grant);
}

/** enrolPhone spends the ticket: this phone is the person's from now on, and signed in. */
export async function enrolPhone(ticket: Ticket, pin: string): Promise<void> {
  const replaces = await deviceId();
  await enrol(pin, nonce, async ({ publicKey, proof }) => {
    const body = { ...ticket, key: JSON.stringify(publicKey), proof, name: nameOfPhone(), replaces };
    const grant = (await send<PhoneGrant>("POST", "/api/way-in/phone", { body })).body;
    start(grant);
    return { device: grant.device_id, person: grant.person };
  });
  proveWith(refreshPhone);
}

// The system and the browser, as far as the browser tells: enough to know
// one's phone again in a list.
function nameOfPhone(): string {
  return /\(([^)]+)\)/.exec(navigator.userAgent)?.[1]?.slice(0, 80) ?? "";
}

/** refreshPhone renews the session of an unlocked phone, or begins one: its key is all it needs. */
export async function refreshPhone(): Promise<Grant> {
  const device = await deviceId();
  if (sessionId) {
    const proof = await prove("refresh", sessionId, await nonce());
    const renewed = await send<PhoneGrant>("POST", "/api/refresh", { body: { proof } }).catch(() => null);
    if (renewed) return renewed.body;
  }
  const proof = await prove("sign-in", device ?? "", await nonce());
  const grant = (await send<PhoneGrant>("POST", "/api/sign-in/phone", { body: { device_id: device, proof } }))
    .body;
  sessionId = grant.session_id;
  return grant;
}

/** reportWrongPin tells the server of wrong PINs in a row, so that the firm sees a stolen phone. */
export async function reportWrongPin(failures: number): Promise<void> {
  await send("POST", "/api/way-in/wrong-pin", { body: { failures } });
}

/** choosePassword spends a link for a password and answers the name to sign in with. */
export async function choosePassword(secret: string, password: string): Promise<string> {
  return (await send<{ login: string }>("POST", "/api/way-in/password", { body: { secret, password } })).body
    .login;
}
