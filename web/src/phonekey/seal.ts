import type { PhoneRecord } from "./record";

/** The part of a PhoneRecord that guards the signing key. */
export type Sealed = Pick<PhoneRecord, "publicKey" | "salt" | "iterations" | "iv" | "wrapped" | "binding">;

/** 600,000 rounds of PBKDF2 with HMAC-SHA-256, as the OWASP Password Storage Cheat Sheet advises. */
export const rounds = 600_000;

const { subtle } = globalThis.crypto;
const curve = { name: "ECDSA", namedCurve: "P-256" };
const utf8 = new TextEncoder();

/**
 * makeKey makes the phone's signing key and seals it at once under the PIN
 * and a key that cannot leave this browser; the open form is forgotten.
 */
export async function makeKey(pin: string, iterations: number = rounds): Promise<Sealed> {
  const pair = await subtle.generateKey(curve, true, ["sign", "verify"]);
  const binding = await subtle.generateKey({ name: "HMAC", hash: "SHA-256" }, false, ["sign"]);
  const salt = crypto.getRandomValues(new Uint8Array(16));
  const iv = crypto.getRandomValues(new Uint8Array(12));
  const lock = await dataKey(pin, { salt, iterations, binding });
  const wrapped = await subtle.wrapKey("pkcs8", pair.privateKey, lock, { name: "AES-GCM", iv });
  return { publicKey: await subtle.exportKey("jwk", pair.publicKey), salt, iterations, iv, wrapped, binding };
}

/** openKey gives the signing key, not extractable any more, or null when the PIN is wrong. */
export async function openKey(pin: string, sealed: Sealed): Promise<CryptoKey | null> {
  const lock = await dataKey(pin, sealed);
  const how = { name: "AES-GCM", iv: sealed.iv };
  return subtle.unwrapKey("pkcs8", sealed.wrapped, lock, how, curve, false, ["sign"]).catch(() => null);
}

// Data key = HKDF(PBKDF2(PIN, salt), HMAC(binding, salt)): six digits alone
// would fall to a fast machine, and the binding key does not leave this one.
async function dataKey(
  pin: string,
  { salt, iterations, binding }: Pick<Sealed, "salt" | "iterations" | "binding">,
): Promise<CryptoKey> {
  const typed = await subtle.importKey("raw", utf8.encode(pin), "PBKDF2", false, ["deriveBits"]);
  const stretched = await subtle.deriveBits(
    { name: "PBKDF2", hash: "SHA-256", salt, iterations },
    typed,
    256,
  );
  const bound = await subtle.sign("HMAC", binding, salt);
  const material = await subtle.importKey("raw", stretched, "HKDF", false, ["deriveKey"]);
  const info = utf8.encode("tendfold phone key 1");
  return subtle.deriveKey(
    { name: "HKDF", hash: "SHA-256", salt: bound, info },
    material,
    { name: "AES-GCM", length: 256 },
    false,
    ["wrapKey", "unwrapKey"],
  );
}

/** sign gives the ECDSA signature of a text (P-256, SHA-256, r and s) in base64url. */
export async function sign(key: CryptoKey, text: string): Promise<string> {
  const signature = await subtle.sign({ name: "ECDSA", hash: "SHA-256" }, key, utf8.encode(text));
  return base64url(new Uint8Array(signature));
}

/** base64url writes bytes as RFC 4648, section 5, without padding. */
export function base64url(bytes: Uint8Array): string {
  return btoa(String.fromCharCode(...bytes))
    .replace(/\+/g, "-")
    .replace(/\//g, "_")
    .replace(/=+$/, "");
}

/** thumbprint names a public key: SHA-256 over its members in their order (RFC 7638), in base64url. */
export async function thumbprint({ crv, kty, x, y }: JsonWebKey): Promise<string> {
  const hash = await subtle.digest("SHA-256", utf8.encode(JSON.stringify({ crv, kty, x, y })));
  return base64url(new Uint8Array(hash));
}

/**
 * statement is the text a phone signs: what for, the server's nonce and what
 * about, so that a proof made for one thing is no good for another.
 */
export function statement(verb: "enrol" | "sign-in" | "refresh", nonce: string, thing: string): string {
  return `tendfold ${verb}\n${nonce}\n${thing}`;
}
