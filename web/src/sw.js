// The service worker: keeps the app on the device, so that it opens without a
// network. build/service-worker.ts puts the version and the files in. Plain
// JavaScript, for it is copied as it stands.

const version = "__VERSION__";
const shell = "__SHELL__";
const roles = "__ROLES__";

const name = `tendfold-${version}`;
const isOurs = (cache) => cache.startsWith("tendfold-");
// Not a page: it remembers which roles this device has.
const rolesKey = "/sw-roles";

// A file under /assets has its hash in its name, so a copy of the same name
// in an older cache is the same file: a release costs only what it changed.
async function put(cache, path) {
  if (await cache.match(path)) return;
  const named = path.startsWith("/assets/");
  const kept = named && (await caches.match(path));
  if (kept) return cache.put(path, kept);
  // What the page has brought a moment ago is not paid for twice.
  const answer = await fetch(path, { cache: named ? "default" : "no-cache" });
  if (!answer.ok) throw new Error(`${path} answered ${answer.status}`);
  await cache.put(path, answer);
}

async function rolesHere() {
  const own = await (await caches.open(name)).match(rolesKey);
  const kept = own || (await caches.match(rolesKey));
  return kept ? kept.json() : [];
}

async function install() {
  const cache = await caches.open(name);
  const here = await rolesHere();
  const files = [...shell, ...here.flatMap((role) => roles[role] || [])];
  await Promise.all(files.map((path) => put(cache, path)));
  await cache.put(rolesKey, new Response(JSON.stringify(here)));
}

async function addRoles(asked) {
  const here = [...new Set([...(await rolesHere()), ...asked])];
  const cache = await caches.open(name);
  await cache.put(rolesKey, new Response(JSON.stringify(here)));
  await Promise.all(here.flatMap((role) => roles[role] || []).map((path) => put(cache, path)));
}

async function tidy() {
  const old = (await caches.keys()).filter((cache) => isOurs(cache) && cache !== name);
  await Promise.all(old.map((cache) => caches.delete(cache)));
}

// Pages come from this version's own cache, so that page and scripts fit.
async function fromCache(request, isPage) {
  const cache = await caches.open(name);
  return (await cache.match(isPage ? "/" : request)) || fetch(request);
}

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(tidy()));

self.addEventListener("message", (event) => {
  // The page asks only after the person has agreed.
  if (event.data?.type === "take-over") self.skipWaiting();
  if (event.data?.type === "roles") event.waitUntil(addRoles(event.data.roles));
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin) return;
  const served = /^\/(api\/|healthz|readyz|metrics|openapi|problems\/|sw\.js)/.test(url.pathname);
  if (served) return;
  event.respondWith(fromCache(request, request.mode === "navigate"));
});

// A notice from the server, encrypted for this browser alone. One tap opens
// the ticket that it is about.
self.addEventListener("push", (event) => {
  const told = event.data?.json() ?? {};
  const shown = { body: told.body, tag: told.tag, data: { ticket: told.ticket } };
  event.waitUntil(self.registration.showNotification(told.title || "Tendfold", shown));
});

self.addEventListener("notificationclick", (event) => {
  event.notification.close();
  const { ticket } = event.notification.data ?? {};
  event.waitUntil(self.clients.openWindow(ticket ? `/desk?ticket=${encodeURIComponent(ticket)}` : "/"));
});
