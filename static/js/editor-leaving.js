// A tab that is closed, left or put away takes the last words with it: they are sent in a request that outlives the page.
// Each save carries when the page was last typed in, so that one that was held up never overwrites a later one.
const form = document.querySelector("#draft-form");
const MOST_BYTES = 60000; // what a browser sends after the page is gone
const turn = form.elements.namedItem("turn");
let typed = 0;
let saved = 0;
let leaving = false;

const touched = () => {
  typed = Math.max(Date.now(), typed + 1);
  turn.value = String(typed);
};
const fields = () => {
  const data = new FormData(form);
  data.delete("do");
  return data;
};
const size = () => [...fields()].reduce((sum, [name, value]) => sum + 120 + name.length + new Blob([value]).size, 0);
const titled = () => form.elements.namedItem("title").value.trim() !== "";

const send = () => {
  if (typed <= saved || leaving || !titled()) return;
  const sent = typed;
  const headers = { "HX-Request": "true", "HX-Target": "draft-state" };
  const keepalive = size() < MOST_BYTES;
  fetch(form.action, { method: "POST", body: fields(), headers, keepalive, credentials: "same-origin" })
    .then((answer) => {
      if (answer.ok) saved = Math.max(saved, sent);
    })
    .catch(() => {});
};

form.addEventListener("input", touched);
form.addEventListener("change", touched);
form.addEventListener(
  "click",
  (event) => {
    if (event.target.closest("button")) touched();
  },
  true,
);
form.addEventListener("submit", () => {
  leaving = true;
});
window.addEventListener("pageshow", () => {
  leaving = false;
});
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "hidden") send();
});
window.addEventListener("pagehide", send);
// More than outlives a page: the browser asks before it is left.
window.addEventListener("beforeunload", (event) => {
  if (typed > saved && !leaving && titled() && size() >= MOST_BYTES) event.preventDefault();
});

const underWay = new WeakMap();
document.addEventListener("htmx:beforeRequest", (event) => {
  underWay.set(event.detail.xhr, typed);
});
document.addEventListener("htmx:afterRequest", (event) => {
  const state = document.querySelector("#draft-state");
  const kept =
    event.detail.successful && event.detail.requestConfig.verb === "post" && !(state && state.querySelector(".notice--bad"));
  if (kept) saved = Math.max(saved, underWay.get(event.detail.xhr) || 0);
});
