// Seals an entry as a phone does, with WebCrypto alone, and prints the vector
// that outbox_test.go opens: node seal.mjs X Y > outbox.json (X and Y of the key)
// RFC 9180 base mode: DHKEM(P-256, HKDF-SHA256), HKDF-SHA256, AES-256-GCM.
const { subtle } = globalThis.crypto
const utf8 = (s) => new TextEncoder().encode(s)
const join = (...parts) => Uint8Array.from(parts.flatMap((p) => [...p]))
const b64 = (bytes) => Buffer.from(bytes).toString('base64url')
const two = (n) => Uint8Array.of(n >> 8, n & 255)

const kem = join(utf8('KEM'), two(0x10))
const suite = join(utf8('HPKE'), two(0x10), two(1), two(2))

async function hmac(key, data) {
  const k = await subtle.importKey('raw', key.length ? key : new Uint8Array(32), { name: 'HMAC', hash: 'SHA-256' }, false, ['sign'])
  return new Uint8Array(await subtle.sign('HMAC', k, data))
}
const extract = (id, salt, label, ikm) => hmac(salt, join(utf8('HPKE-v1'), id, utf8(label), ikm))
async function expand(id, prk, label, info, length) {
  const block = await hmac(prk, join(two(length), utf8('HPKE-v1'), id, utf8(label), info, Uint8Array.of(1)))
  return block.slice(0, length) // never more than one block here
}

export async function seal(recipient, info, aad, plain) {
  const algorithm = { name: 'ECDH', namedCurve: 'P-256' }
  const once = await subtle.generateKey(algorithm, true, ['deriveBits'])
  const enc = new Uint8Array(await subtle.exportKey('raw', once.publicKey))
  const pk = await subtle.importKey('raw', recipient, algorithm, true, [])
  const dh = new Uint8Array(await subtle.deriveBits({ name: 'ECDH', public: pk }, once.privateKey, 256))
  const none = new Uint8Array()
  const prk = await extract(kem, none, 'eae_prk', dh)
  const shared = await expand(kem, prk, 'shared_secret', join(enc, recipient), 32)
  const context = join(Uint8Array.of(0), await extract(suite, none, 'psk_id_hash', none), await extract(suite, none, 'info_hash', info))
  const secret = await extract(suite, shared, 'secret', none)
  const key = await subtle.importKey('raw', await expand(suite, secret, 'key', context, 32), 'AES-GCM', false, ['encrypt'])
  const iv = await expand(suite, secret, 'base_nonce', context, 12)
  const ciphertext = new Uint8Array(await subtle.encrypt({ name: 'AES-GCM', iv, additionalData: aad }, key, plain))
  return { enc: b64(enc), ciphertext: b64(ciphertext) }
}

const [, , x, y] = process.argv
const recipient = join(Uint8Array.of(4), Buffer.from(x, 'base64url'), Buffer.from(y, 'base64url'))
const aad = 'person-1\nentry-1'
const plain = '{"deaths":0}'
console.log(JSON.stringify({ aad, plain, ...(await seal(recipient, utf8('tendfold outbox v1'), utf8(aad), utf8(plain))) }, null, 2))
