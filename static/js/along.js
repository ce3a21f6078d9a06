/* "Save for offline": this recipe's page, its cooking view and the run desk open without a signal on this device. */
import { store } from "./desk-store.js";

const CACHE = "wattfare-along";
let button = null;
let page = "";
let said = null;
const say = (words) => {
  said.textContent = words;
};

/* The pages of the recipe: as written, and as it is asked for just now (its servings, a kit). */
const cooking = () => {
  const asked = document.querySelector("[data-cook-by]");
  return [...new Set([`${page}cook/`, asked ? asked.href : `${page}cook/`].map((one) => new URL(one, location).href))];
};
const reading = () => {
  const here = location.pathname.startsWith(page) ? location.href.split("#")[0] : page;
  return [...new Set([page, here].map((one) => new URL(one, location).href))];
};
const plain = (address) =>
  fetch(address, { credentials: "omit" }).then((answer) => {
    if (!answer.ok || answer.redirected) throw new Error(`${answer.status}`);
    return answer;
  });
export const parts = (doc) => {
  const linked = [
    ...doc.querySelectorAll("link[rel=stylesheet], link[rel=preload], link[rel=modulepreload], link[rel=icon]"),
  ].map((one) => one.href);
  const loaded = [...doc.querySelectorAll("script[src], main img")].map((one) => one.currentSrc || one.src);
  return [...new Set([...linked, ...loaded])].filter((address) => address.startsWith(location.origin));
};
const keepPage = async () => {
  const cache = await caches.open(CACHE);
  const held = [];
  for (const address of cooking()) {
    const method = await plain(address);
    held.push(...parts(new DOMParser().parseFromString(await method.clone().text(), "text/html")));
    await cache.put(address, method);
  }
  await Promise.all(
    [...new Set([...parts(document), ...held])].map((address) =>
      plain(address)
        .then((answer) => cache.put(address, answer))
        .catch(() => {}),
    ),
  );
  for (const address of reading().reverse()) await cache.put(address, await plain(address));
};
/* What a cook needs to start it: only for who may edit the recipe; a reader takes the page alone. */
const keepWords = async () => {
  const answer = await fetch(button.dataset.alongWords, { credentials: "same-origin", redirect: "manual" });
  if (!answer.ok) return false;
  const words = await answer.json();
  await store.setMeta("cook", words.cook);
  await store.putRecipe({ ...words, seen: Date.now() });
  return true;
};
const slug = () => decodeURIComponent(button.dataset.alongWords.split("/")[3]);
const isKept = async () => {
  if (!(await navigator.serviceWorker.getRegistration("/"))) return false;
  return Boolean(page ? await caches.match(page, { cacheName: CACHE }) : await store.recipe(slug()));
};
const draw = (kept) => {
  button.textContent = kept ? "Remove from this device" : "Save for offline";
  button.dataset.kept = kept ? "1" : "";
};
const take = async () => {
  await navigator.serviceWorker.register("/worker.js", { scope: "/" });
  await navigator.serviceWorker.ready;
  if (page) await keepPage();
  const cooks = await keepWords().catch(() => false);
  if (navigator.storage && navigator.storage.persist) await navigator.storage.persist().catch(() => false);
  say(
    cooks
      ? "Saved: it opens without a signal on this device, and a cook can be started."
      : "Saved: it opens without a signal on this device.",
  );
};
const leave = async () => {
  const cache = await caches.open(CACHE);
  const kept = page ? await cache.keys() : [];
  await Promise.all(kept.filter((one) => new URL(one.url).pathname.startsWith(page)).map((one) => cache.delete(one)));
  await store.dropRecipe(slug());
  say("It is no longer kept on this device.");
};
const press = async () => {
  button.disabled = true;
  try {
    await (button.dataset.kept ? leave() : take());
    draw(await isKept());
  } catch (error) {
    say(`That did not work (${error.message || error}). Is there a signal, and space on this device? Then try again.`);
  }
  button.disabled = false;
};
const attach = async () => {
  const found = document.querySelector("[data-along]");
  if (!found || found === button) return;
  button = found;
  page = button.dataset.along;
  said = document.querySelector("[data-along-said]");
  button.addEventListener("click", press);
  draw(await isKept());
  button.hidden = false;
};
if ("serviceWorker" in navigator && self.caches) {
  document.addEventListener("htmx:afterSwap", attach);
  attach();
}
