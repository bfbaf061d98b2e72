// @vitest-environment node
import "fake-indexeddb/auto";
import { beforeEach, describe, expect, it } from "vitest";
import type { Person } from "../api/session";
import { leave, person } from "../api/session";
import { db, wipe } from "../offline/db";
import {
  device,
  enrol,
  forget,
  lock,
  longestSilence,
  look,
  mostTries,
  noteContact,
  type Presented,
  phone,
  pinWorks,
  prove,
  unlock,
} from "./phone";
import { base64url, makeKey, openKey, sign, thumbprint } from "./seal";

const fewRounds = 10;
const ama: Person = { id: "p1", name: "Ama", language: "fr", grants: [{ role: "caretaker", branch_id: "" }] };
let announced: Presented;
const nonce = async () => "nonce";
const announce = async (shown: Presented) => {
  announced = shown;
  return { device: "d1", person: ama };
};

async function verifies(jwk: JsonWebKey, signature: string, text: string): Promise<boolean> {
  const key = await crypto.subtle.importKey("jwk", jwk, { name: "ECDSA", namedCurve: "P-256" }, false, [
    "verify",
  ]);
  const bytes = Buffer.from(signature, "base64url");
  const how = { name: "ECDSA", hash: "SHA-256" };
  return crypto.subtle.verify(how, key, bytes, new TextEncoder().encode(text));
}

describe("the sealed key", () => {
  it("opens with its PIN, signs, and cannot be taken out", async () => {
    const sealed = await makeKey("123456", fewRounds);
    const key = await openKey("123456", sealed);
    expect(key?.extractable).toBe(false);
    expect(sealed.binding.extractable).toBe(false);
    expect(sealed.publicKey).not.toHaveProperty("d");
    expect(await verifies(sealed.publicKey, await sign(key as CryptoKey, "nonce"), "nonce")).toBe(true);
  });
  it("stays shut to another PIN and to another device", async () => {
    const sealed = await makeKey("123456", fewRounds);
    const elsewhere = await makeKey("123456", fewRounds);
    expect(await openKey("123457", sealed)).toBeNull();
    expect(await openKey("123456", { ...sealed, binding: elsewhere.binding })).toBeNull();
  });
  it("names a key as RFC 7638 does", async () => {
    // The key of RFC 7517, A.1; the thumbprint was worked out with Python's hashlib over its members.
    const key = {
      kty: "EC",
      crv: "P-256",
      x: "MKBCTNIcKUSDii11ySs3526iDZ8AiTo7Tu6KPAqv7D4",
      y: "4Etl6SRW2YiLUrN5vfvVHuhp7x8PxltmWWlbbM4IFyM",
      use: "enc",
    };
    expect(await thumbprint(key)).toBe("cn-I_WNMClehiVp51i_0VpOENW1upEerA8sEam5hn-s");
  });
  it("writes base64url as RFC 4648 does", () => {
    // Section 10's vectors, and bytes that need both of the changed letters.
    expect(base64url(new TextEncoder().encode("foob"))).toBe("Zm9vYg");
    expect(base64url(new Uint8Array([0xfb, 0xff]))).toBe("-_8");
  });
});

describe("the phone", () => {
  beforeEach(async () => {
    lock();
    await wipe();
    await enrol("123456", nonce, announce, fewRounds);
  });
  const record = async () => (await db()).get("phone", "p1");

  it("is unlocked after enrolment and proves itself", async () => {
    expect(phone.value).toBe("open");
    expect(person.value?.name).toBe("Ama");
    const key = announced.publicKey;
    const enrolled = `tendfold enrol\nnonce\n${await thumbprint(key)}`;
    expect(await verifies(key, announced.proof.signature, enrolled)).toBe(true);
    const { signature } = await prove("sign-in", "d1", "other");
    expect(await verifies(key, signature, "tendfold sign-in\nother\nd1")).toBe(true);
    expect(await verifies(key, signature, "tendfold refresh\nother\nd1")).toBe(false);
  });

  it("is locked after a restart and knows whose it is", async () => {
    lock();
    expect((await look()).map((p) => p.name)).toEqual(["Ama"]);
    expect(phone.value).toBe("locked");
    await expect(prove("refresh", "s1", "nonce")).rejects.toMatchObject({ code: "phone-locked" });
    expect(await unlock("p1", "123456")).toEqual({ right: true });
  });

  it("counts wrong tries and forgets them after a right one", async () => {
    lock();
    expect(await unlock("p1", "000000")).toEqual({ right: false, left: mostTries - 1, device: "d1" });
    expect((await record())?.tries).toBe(1);
    await unlock("p1", "123456");
    expect((await record())?.tries).toBe(0);
  });

  it("wipes what can be read at the tenth wrong try", async () => {
    lock();
    await (await db()).put("kept", { key: "today", person: "p1", at: 0, body: {} });
    for (let n = 1; n < mostTries; n++) await unlock("p1", "000000");
    expect((await record())?.tries).toBe(mostTries - 1);
    expect(await unlock("p1", "000000")).toEqual({ right: false, left: 0, device: "d1" });
    expect(await record()).toBeUndefined();
    expect(await (await db()).count("kept")).toBe(0);
    expect(phone.value).toBe("none");
    await expect(unlock("p1", "123456")).rejects.toThrow("not enrolled");
  });

  it("wipes what can be read after 75 silent days", async () => {
    await (await db()).put("kept", { key: "today", person: "p1", at: 0, body: {} });
    lock();
    const contact = Date.now() + longestSilence;
    expect(await look(contact - 1000)).toHaveLength(1);
    await unlock("p1", "123456");
    await noteContact(contact);
    lock();
    expect(await look(contact + longestSilence - 1000)).toHaveLength(1);
    expect(await look(contact + longestSilence + 1000)).toEqual([]);
    expect(phone.value).toBe("none");
    expect(await (await db()).count("kept")).toBe(0);
  });

  it("closes the key when its person leaves", async () => {
    expect(device()).toBe("d1");
    leave();
    expect(phone.value).toBe("locked");
    expect(device()).toBeUndefined();
  });

  describe("shared by two", () => {
    const ebo: Person = { ...ama, id: "p2", name: "Ebo" };
    beforeEach(async () => {
      await enrol("654321", nonce, async () => ({ device: "d2", person: ebo }), fewRounds);
    });

    it("opens for each by their own PIN alone", async () => {
      expect(person.value?.name).toBe("Ebo");
      expect(device()).toBe("d2");
      lock();
      expect((await look()).map((p) => p.name).sort()).toEqual(["Ama", "Ebo"]);
      expect(await unlock("p2", "123456")).toMatchObject({ right: false });
      expect(await unlock("p1", "123456")).toEqual({ right: true });
      expect(person.value?.name).toBe("Ama");
      expect(device()).toBe("d1");
      expect(await unlock("p2", "654321")).toEqual({ right: true });
      expect(person.value?.name).toBe("Ebo");
    });

    it("takes from one what can be read, and nothing from the other", async () => {
      const store = await db();
      for (const who of ["p1", "p2"]) await store.put("kept", { key: "today", person: who, at: 0, body: {} });
      lock();
      for (let n = 0; n < mostTries; n++) await unlock("p2", "000000");
      expect((await store.getAll("kept")).map((k) => k.person)).toEqual(["p1"]);
      expect((await look()).map((p) => p.name)).toEqual(["Ama"]);
      expect(phone.value).toBe("locked");
      expect(await unlock("p1", "123456")).toEqual({ right: true });
      await forget("p1");
      expect(phone.value).toBe("none");
      expect(person.value).toBeNull();
    });
  });

  it("keeps nothing when the server does not take the phone", async () => {
    await wipe();
    await expect(enrol("123456", nonce, () => Promise.reject(new Error("spent")), fewRounds)).rejects.toThrow(
      "spent",
    );
    expect(await record()).toBeUndefined();
  });

  it("shows the same key again when the answer got lost", async () => {
    await wipe();
    let first = {};
    const lost = async (shown: Presented) => {
      first = shown.publicKey;
      throw new Error("no network");
    };
    await expect(enrol("123456", nonce, lost, fewRounds)).rejects.toThrow("no network");
    await enrol("123456", nonce, announce, fewRounds);
    expect(announced.publicKey).toEqual(first);
  });
});

it.each([
  ["123456", true],
  ["12345", false],
  ["12345a", false],
  ["", false],
])("takes %j for a PIN: %s", (pin, works) => {
  expect(pinWorks(pin)).toBe(works);
});
