/* What this device keeps for when there is no signal: pages and their files in one cache, and beside them for each thing that was
   saved a note of what belongs to it: its title, day, size, and which edition of each recipe. */
const CACHE = "wattfare-along";
const NOTE = "/saved/note";
export const SHELF = "/saved/";
const noteOf = (page) => `${NOTE}?of=${encodeURIComponent(page)}`;
const open = () => caches.open(CACHE);

export const plain = (address) =>
  fetch(address, { credentials: "omit", cache: "no-cache" }).then((answer) => {
    if (!answer.ok || answer.redirected) throw new Error(`${answer.status}`);
    return answer;
  });
export const parts = (doc) => {
  const linked = [
    ...doc.querySelectorAll("link[rel=stylesheet], link[rel=preload], link[rel=modulepreload], link[rel=icon]"),
  ].map((one) => one.getAttribute("href"));
  const loaded = [...doc.querySelectorAll("script[src], main img")].map((one) => one.getAttribute("src"));
  const whole = [...linked, ...loaded].map((address) => new URL(address, location.href).href);
  return [...new Set(whole)].filter((address) => address.startsWith(location.origin));
};
/* Puts an address into the cache and says how many bytes that is; what is asked for gently may be missing. */
const put = async (cache, address, answer) => {
  const body = await answer.clone().blob();
  await cache.put(address, answer);
  return body.size;
};
const keepPage = async (cache, page, files) => {
  const answer = await plain(page);
  const doc = new DOMParser().parseFromString(await answer.clone().text(), "text/html");
  parts(doc).forEach((address) => files.add(address));
  return put(cache, page, answer);
};
const keepFiles = async (cache, files) => {
  const each = [...files].map((address) =>
    plain(address)
      .then((answer) => put(cache, address, answer))
      .catch(() => 0),
  );
  return (await Promise.all(each)).reduce((sum, size) => sum + size, 0);
};
const short = (address) => {
  const { pathname, search } = new URL(address, location.href);
  return pathname + search;
};
const editionsOf = (told) => {
  const recipes = told.recipes || [{ path: new URL(told.url).pathname, edition: told.edition }];
  return Object.fromEntries(recipes.map((one) => [one.path, one.edition]));
};

/* Saves a page with every recipe that its data names, their cooking views, what else is asked for, and the files of all of them;
   `heard` hears how far it is. */
export const keep = async ({ page, data, title, more = [], heard = () => {} }) => {
  const told = await (await plain(data)).json();
  const editions = editionsOf(told);
  const recipes = Object.keys(editions).flatMap((path) => [path, `${path}cook/`]);
  const pages = [...new Set([page, ...more, ...recipes, SHELF].map(short))];
  const cache = await open();
  const files = new Set();
  let bytes = 0;
  for (const [number, address] of pages.entries()) {
    bytes += await keepPage(cache, address, files);
    heard(number + 1, pages.length);
  }
  bytes += await keepFiles(cache, files);
  const note = { page, data, title, more, editions, pages, files: [...files], bytes, day: new Date().toISOString() };
  await cache.put(noteOf(page), new Response(JSON.stringify(note)));
  return note;
};

export const saved = async () => {
  const cache = await open();
  const notes = [];
  for (const request of await cache.keys()) {
    if (new URL(request.url).pathname === NOTE) notes.push(await (await cache.match(request)).json());
  }
  return notes.sort((one, other) => one.title.localeCompare(other.title));
};
export const isSaved = async (page) => Boolean(await caches.match(noteOf(page), { cacheName: CACHE }));

/* Takes one thing away; what another one needs as well stays. */
export const drop = async (page) => {
  const cache = await open();
  await cache.delete(noteOf(page));
  const left = await saved();
  const needed = new Set([...left.flatMap((note) => [...note.pages, ...note.files, noteOf(note.page)])]);
  for (const request of await cache.keys()) {
    if (!needed.has(short(request.url)) && !needed.has(request.url)) await cache.delete(request);
  }
};

/* Whether the site has something newer than what is kept; null where there is no telling. */
export const isNewer = async (note) => {
  try {
    const now = editionsOf(await (await plain(note.data)).json());
    return JSON.stringify(now) !== JSON.stringify(note.editions);
  } catch {
    return null;
  }
};
/* The worker answers from what is kept where there is no signal. */
export const begin = async () => {
  await navigator.serviceWorker.register("/worker.js", { scope: "/" });
  await navigator.serviceWorker.ready;
  if (navigator.storage && navigator.storage.persist) await navigator.storage.persist().catch(() => false);
};
export const sizeWords = (bytes) =>
  bytes < 1e6 ? `${Math.max(1, Math.round(bytes / 1e3))} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
