import type { OutboxKey } from "../offline/db";
import type { Sealed } from "../offline/entry";
import { base64url } from "../phonekey/seal";

// HPKE (RFC 9180), base mode, one message: DHKEM(P-256, HKDF-SHA256),
// HKDF-SHA256, AES-256-GCM. The names are those of the RFC.
const { subtle } = globalThis.crypto;
const utf8 = (text: string) => new TextEncoder().encode(text);
const two = (n: number) => Uint8Array.of(n >> 8, n & 255);
const curve = { name: "ECDH", namedCurve: "P-256" };
const none = new Uint8Array();
const kem = join(utf8("KEM"), two(0x10));
const suite = join(utf8("HPKE"), two(0x10), two(1), two(2));

/** What every seal of an outbox is for, as the server has it. */
const info = utf8("tendfold outbox v1");

type Bytes = Uint8Array<ArrayBuffer>;

/** seal closes a text so that only the server's key opens it, and only together with `bound`. */
export async function seal(to: OutboxKey, bound: string, text: string): Promise<Sealed> {
  const { kty, crv, x, y } = to;
  const recipient = await subtle.importKey("jwk", { kty, crv, x, y }, curve, true, []);
  const once = await subtle.generateKey(curve, true, ["deriveBits"]);
  const enc = await raw(once.publicKey);
  const dh = new Uint8Array(
    await subtle.deriveBits({ name: "ECDH", public: recipient }, once.privateKey, 256),
  );
  const shared = await sharedSecret(dh, join(enc, await raw(recipient)));
  const { key, nonce } = await schedule(shared);
  const how = { name: "AES-GCM", iv: nonce, additionalData: utf8(bound) };
  const ciphertext = new Uint8Array(await subtle.encrypt(how, key, utf8(text)));
  return { kid: to.kid, enc: base64url(enc), ciphertext: base64url(ciphertext) };
}

// ExtractAndExpand of section 4.1.
async function sharedSecret(dh: Bytes, context: Bytes): Promise<Bytes> {
  const prk = await extract(kem, none, "eae_prk", dh);
  return expand(kem, prk, "shared_secret", context, 32);
}

// KeySchedule of section 5.1 in base mode: no pre-shared key.
async function schedule(shared: Bytes): Promise<{ key: CryptoKey; nonce: Bytes }> {
  const context = join(
    Uint8Array.of(0),
    await extract(suite, none, "psk_id_hash", none),
    await extract(suite, none, "info_hash", info),
  );
  const secret = await extract(suite, shared, "secret", none);
  const bits = await expand(suite, secret, "key", context, 32);
  const key = await subtle.importKey("raw", bits, "AES-GCM", false, ["encrypt"]);
  return { key, nonce: await expand(suite, secret, "base_nonce", context, 12) };
}

function extract(id: Bytes, salt: Bytes, label: string, ikm: Bytes): Promise<Bytes> {
  return hmac(salt.length > 0 ? salt : new Uint8Array(32), join(utf8("HPKE-v1"), id, utf8(label), ikm));
}

// HKDF-Expand of one block, for no output here is longer than a hash.
async function expand(id: Bytes, prk: Bytes, label: string, context: Bytes, length: number): Promise<Bytes> {
  const text = join(two(length), utf8("HPKE-v1"), id, utf8(label), context, Uint8Array.of(1));
  return (await hmac(prk, text)).slice(0, length);
}

async function hmac(key: Bytes, data: Bytes): Promise<Bytes> {
  const k = await subtle.importKey("raw", key, { name: "HMAC", hash: "SHA-256" }, false, ["sign"]);
  return new Uint8Array(await subtle.sign("HMAC", k, data));
}

async function raw(key: CryptoKey): Promise<Bytes> {
  return new Uint8Array(await subtle.exportKey("raw", key));
}

function join(...parts: Uint8Array[]): Bytes {
  const whole = new Uint8Array(parts.reduce((n, part) => n + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
