/* What was typed into a grid stays in this browser until it is kept: a closed tab loses nothing.
   It is offered, never put in unasked. */
import { make } from "./elements.js";
import { check, rowAt } from "./grid.js";

const form = document.querySelector("form[data-draft]");
const key = `wattfare draft ${form.dataset.draft}`;
const LONGEST_MS = 30 * 86400e3;
const PATIENCE_MS = 300;
const LEFT_OUT = new Set(["csrfmiddlewaretoken", "log_file", "log_text", "log_shape"]);

const store = (draft) => {
  try {
    localStorage.setItem(key, JSON.stringify(draft));
  } catch {
    /* full, or not allowed: the form itself still works */
  }
};
const forget = () => {
  try {
    localStorage.removeItem(key);
  } catch {
    /* there is nothing to forget then */
  }
};
const remembered = () => {
  try {
    return JSON.parse(localStorage.getItem(key));
  } catch {
    return null;
  }
};
const fields = () => [...new FormData(form)].filter(([name, value]) => typeof value === "string" && !LEFT_OUT.has(name));
const valueIn = (draft, name) => (draft.fields.find(([other]) => other === name) || [])[1];
const rowsTyped = (draft) =>
  new Set(
    draft.fields
      .filter(([name, value]) => /^row\d+-(energy_wh|power_w|charge_pct|note)$/.test(name) && value.trim())
      .map(([name]) => name.split("-")[0]),
  ).size;

let waits = 0;
let isOffered = false; // what is offered is not written over before somebody has chosen
const keep = () => {
  clearTimeout(waits);
  waits = 0;
  store({ at: Date.now(), fields: fields() });
};
form.addEventListener("input", () => {
  if (isOffered) return;
  clearTimeout(waits);
  waits = setTimeout(keep, PATIENCE_MS);
});
addEventListener("pagehide", () => {
  if (waits) keep();
});

const bringBack = (draft) => {
  rowAt(Number(valueIn(draft, "rows")) - 1);
  for (const box of form.querySelectorAll("[type=checkbox]")) box.checked = false;
  for (const [name, value] of draft.fields) {
    for (const field of form.elements) {
      if (field.name !== name || name === "rows") continue;
      if (["checkbox", "radio"].includes(field.type)) field.checked = field.checked || field.value === value;
      else field.value = value;
    }
  }
  check();
};
const button = (words, press) => make("button", { type: "button", class: "button button--quiet", text: words, onclick: press });
const offer = (draft, count) => {
  const when = new Date(draft.at).toLocaleString("en-GB", { day: "numeric", month: "long", hour: "2-digit", minute: "2-digit" });
  const rows = count === 1 ? "row" : "rows";
  const words = `You typed ${count} ${rows} here on ${when} and did not keep them. They are still in this browser.`;
  const close = () => {
    isOffered = false;
    box.remove();
    form.querySelector("[name$=-minute]").focus();
  };
  const bring = () => {
    bringBack(draft);
    close();
  };
  const throwAway = () => {
    forget();
    close();
  };
  const actions = make("p", { class: "actions" }, button("Bring back what you typed", bring), button("Delete it", throwAway));
  const box = make("div", { class: "notice", role: "status" }, make("p", { text: words }), actions);
  isOffered = true;
  form.before(box);
};

const draft = remembered();
const kept = (form.dataset.kept || "").split(" ");
if (draft && Array.isArray(draft.fields)) {
  if (kept.includes(valueIn(draft, "once")) || Date.now() - draft.at > LONGEST_MS) forget();
  else if (!("typed" in form.dataset) && rowsTyped(draft)) offer(draft, rowsTyped(draft));
}
