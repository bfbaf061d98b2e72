// @vitest-environment node
import { expect, it } from "vitest";
import { seal } from "./hpke";

const { subtle } = globalThis.crypto;
const curve = { name: "ECDH", namedCurve: "P-256" };

// What this makes is opened by Go's crypto/hpke (server/app/signin/keys, with
// a text that this same arrangement sealed, and the vectors of RFC 9180).
it("makes a seal of the RFC's form that is never twice the same", async () => {
  const pair = await subtle.generateKey(curve, true, ["deriveBits"]);
  const { kty = "", crv = "", x = "", y = "" } = await subtle.exportKey("jwk", pair.publicKey);
  const to = { kid: "k1", kty, crv, x, y };
  const one = await seal(to, "p1\ne1", "no deaths");
  const two = await seal(to, "p1\ne1", "no deaths");
  expect(one.kid).toBe("k1");
  expect(Buffer.from(one.enc, "base64url")).toHaveLength(65); // Npk of DHKEM(P-256)
  expect(Buffer.from(one.enc, "base64url")[0]).toBe(4); // an uncompressed point
  expect(Buffer.from(one.ciphertext, "base64url")).toHaveLength("no deaths".length + 16); // Nt of AES-GCM
  expect(one.enc).not.toBe(two.enc);
  expect(one.ciphertext).not.toBe(two.ciphertext);
});

it("refuses a key that is no point of the curve", async () => {
  const no = { kid: "k", kty: "EC", crv: "P-256", x: "AA", y: "AA" };
  await expect(seal(no, "", "x")).rejects.toThrow();
});
