/* The page for "no signal": what this device has all the same. */
(async () => {
  const { store } = self.wattfare;
  const list = document.querySelector("[data-kept]"), again = document.querySelector("[data-again]");
  again.hidden = false;
  again.addEventListener("click", () => location.reload());
  window.addEventListener("online", () => location.reload());
  const add = (href, text, note) => {
    const item = document.createElement("li"), link = document.createElement("a"), more = document.createElement("span");
    link.href = href;
    link.textContent = text;
    more.className = "note";
    more.textContent = note;
    item.append(link, more);
    list.append(item);
  };
  if (self.caches) {
    const cache = await caches.open("wattfare-along");
    for (const request of await cache.keys()) {
      const { pathname } = new URL(request.url);
      if (!pathname.startsWith("/r/")) continue;
      const title = (await (await cache.match(request)).text()).match(/<h1[^>]*>([^<]*)</);
      const plain = document.createElement("textarea");
      plain.innerHTML = title ? title[1] : pathname;
      add(pathname, plain.value, "taken along");
    }
  }
  for (const run of await store.runs()) add(/^\d+$/.test(run.run) ? `/bench/runs/${run.run}/desk/` : `/desk-shell/#${run.run}`, run.recipe.title, "a cook on this device");
})();
