/* Keeps the run desk and what was taken along openable without a signal. The server puts `self.SHELL` and the store of
   desk-store.js in front of this file: not every browser runs a worker that is a module. */
const { version, files, shell, offline } = self.SHELL;
const OWN = `wattfare-shell-${version}`;
const ALONG = "wattfare-along";
const LISTS = "wattfare-lists";
const PATIENCE_MS = 6_000;
const DESK = /^\/(bench\/runs\/\d+\/desk|bench\/recipes\/[^/]+\/cook|desk-shell)\/$/;
const SAVED = /^\/(r\/[^/]+\/(for-\d+\/)?(cook\/)?|c\/[^/]+\/|saved\/)?$/;
const LIST = "/bench/shopping/";

self.addEventListener("install", (event) => {
  const fresh = (address) => new Request(address, { credentials: "omit", cache: "reload" });
  event.waitUntil(
    caches
      .open(OWN)
      .then((cache) => cache.addAll([...files, shell, offline].map(fresh)))
      .then(() => self.skipWaiting()),
  );
});
self.addEventListener("activate", (event) => {
  const old = (names) => names.filter((name) => name.startsWith("wattfare-shell-") && name !== OWN);
  event.waitUntil(
    caches
      .keys()
      .then((names) => Promise.all(old(names).map((name) => caches.delete(name))))
      .then(() => self.clients.claim()),
  );
});

const kept = (address, name) => caches.match(address, { cacheName: name, ignoreVary: true });
const isDown = (answer) => [502, 503, 504].includes(answer.status);
/* The network where it answers in time, else what this device keeps; a page that is not kept waits as long as it takes. */
const networkFirst = async (request, fallback) => {
  const asked = fetch(request);
  const own = await fallback();
  if (!own) return asked.catch(() => kept(offline, OWN));
  const late = new Promise((done) => {
    setTimeout(() => done(null), PATIENCE_MS);
  });
  const answer = await Promise.race([asked.catch(() => null), late]);
  asked.catch(() => {});
  return answer && !isDown(answer) ? answer : own;
};
const page = (request, url) => {
  if (DESK.test(url.pathname)) return networkFirst(request, () => kept(shell, OWN));
  if (SAVED.test(url.pathname)) return networkFirst(request, () => kept(url.href, ALONG));
  if (url.pathname === LIST) return networkFirst(request, () => kept(url.href, LISTS));
  return fetch(request).catch(() => kept(offline, OWN));
};
const file = async (request, url) =>
  (await kept(url.href, OWN)) ||
  fetch(request).catch(async (error) => {
    const own = (await kept(url.href, ALONG)) || (await kept(url.href, LISTS));
    if (own) return own;
    throw error;
  });

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (url.origin !== location.origin) return;
  if (request.method === "POST" && url.pathname === "/bench/sign-out/") {
    event.respondWith(
      fetch(request).then(async (answer) => {
        await store.forget();
        await caches.delete(LISTS);
        return answer;
      }),
    );
  } else if (request.method !== "GET") {
    return;
  } else if (request.mode === "navigate") {
    event.respondWith(page(request, url));
  } else if (url.pathname.startsWith("/static/") || url.pathname.startsWith("/photos/")) {
    event.respondWith(file(request, url));
  }
});
