/* "Save for offline": this recipe with its cooking view and the run desk, or a whole collection, opens without a signal here. */
import { store } from "./desk-store.js";
import { begin, drop, isSaved, keep, sizeWords } from "./saved.js";

let button = null;
let page = "";
let said = null;
const say = (words) => {
  said.textContent = words;
};

/* The page and its cooking view also as they are asked for just now: the servings, a kit. */
const asked = () => {
  const cooking = document.querySelector("[data-cook-by]");
  const here = location.pathname.startsWith(page) ? [location.href.split("#")[0]] : [];
  return cooking ? [...here, cooking.href] : here;
};
/* What a cook needs to start it: only for who may edit the recipe; a reader takes the page alone. */
const keepWords = async () => {
  if (!button.dataset.alongWords) return false;
  const answer = await fetch(button.dataset.alongWords, { credentials: "same-origin", redirect: "manual" });
  if (!answer.ok) return false;
  const words = await answer.json();
  await store.setMeta("cook", words.cook);
  await store.putRecipe({ ...words, seen: Date.now() });
  return true;
};
const slug = () => decodeURIComponent((button.dataset.alongWords || "").split("/")[3] || "");
const isKept = async () => {
  if (!(await navigator.serviceWorker.getRegistration("/"))) return false;
  return page ? isSaved(page) : Boolean(await store.recipe(slug()));
};
const draw = (kept) => {
  button.textContent = kept ? "Remove from this device" : button.dataset.alongLabel || "Save for offline";
  button.dataset.kept = kept ? "1" : "";
};
const take = async () => {
  await begin();
  const title = document.querySelector("h1").textContent.trim();
  const heard = (done, of) => say(`${done} of ${of} pages`);
  const note = page ? await keep({ page, data: page.replace(/\/$/, ".json"), title, more: asked(), heard }) : null;
  const cooks = await keepWords().catch(() => false);
  const size = note ? ` (${sizeWords(note.bytes)})` : "";
  const words = `Saved${size}: it opens without a signal on this device`;
  say(cooks ? `${words}, and a cook can be started.` : `${words}.`);
};
const leave = async () => {
  if (page) await drop(page);
  if (slug()) await store.dropRecipe(slug());
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
