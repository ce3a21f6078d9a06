/* The page for "no signal": what this device has all the same. */
import { store } from "./desk-store.js";
import { make } from "./elements.js";

const list = document.querySelector("[data-kept]");
const again = document.querySelector("[data-again]");
again.hidden = false;
again.addEventListener("click", () => location.reload());
window.addEventListener("online", () => location.reload());
const add = (href, text, note) => {
  list.append(make("li", {}, make("a", { href, text }), make("span", { class: "note", text: note })));
};
if (self.caches) {
  const cache = await caches.open("wattfare-along");
  for (const request of await cache.keys()) {
    const { pathname, search } = new URL(request.url);
    if (!/^\/[rc]\//.test(pathname)) continue;
    const title = (await (await cache.match(request)).text()).match(/<h1[^>]*>([^<]*)</);
    const plain = document.createElement("textarea");
    plain.innerHTML = title ? title[1] : pathname;
    const size = /(?:\/for-|[?&]for=)(\d+)/.exec(request.url);
    const shown = [plain.value.trim(), size && `for ${size[1]}`, pathname.endsWith("/cook/") && "step by step"];
    add(pathname + search, shown.filter(Boolean).join(", "), "saved for offline");
  }
}
for (const run of await store.runs())
  add(
    /^\d+$/.test(run.run) ? `/bench/runs/${run.run}/desk/` : `/desk-shell/#${run.run}`,
    run.recipe.title,
    "a cook on this device",
  );
