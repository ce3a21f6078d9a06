/* Starting a cook: the clock starts with the press. With no signal it starts on the phone, from what was taken along. */
import { drawPanel, drawState } from "./desk-queue.js";
import { store, uuid } from "./desk-store.js";
import { make, put } from "./elements.js";
import { outbox } from "./outbox.js";
import { readNumber } from "./typed.js";

const NUMBERS = { servings: "", ambient_c: "°C", food_start_c: "°C", altitude_m: "m" };
const GEAR = ["appliance", "source", "meter"];

/* The few fields of gear that is typed in where it is chosen: what each is called, and its unit. */
const NEW = {
  appliance: { rated_w: ["Rated power", "W"] },
  source: { capacity_wh: ["Battery holds", "Wh"], continuous_w: ["Inverter gives all the time", "W"] },
  meter: { resolution_wh: ["Smallest step of its counter", "Wh"] },
};
/* Returns new gear as it is typed, nothing where none is, null where it is not whole; a kind alone may be enough. */
const newGear = (form, name, words) => {
  const typed = {};
  for (const [field, [, unit]] of Object.entries(NEW[name])) {
    const { value, error } = readNumber(form.elements[`new-${name}-${field}`].value, unit);
    if (error || (value !== null && value <= 0)) return null;
    if (value !== null) typed[field] = String(value);
  }
  const kind = form.elements[`new-${name}-kind`];
  if (!Object.keys(typed).length && !(kind && kind.selectedIndex > 0)) return undefined;
  if (!kind) return typed;
  const [, , needs] = words.kinds[name].find(([key]) => key === kind.value) || [null, null, []];
  return needs.every((one) => typed[one]) ? { ...typed, kind: kind.value } : null;
};
/* Returns what the form says, or nothing where the server should look at it and say what is wrong. */
const readForm = (form, words) => {
  const said = {};
  const practice = form.elements.practice.checked;
  if (practice) said.practice = true;
  for (const name of GEAR) {
    const fresh = newGear(form, name, words);
    if (fresh === null) return null;
    if (fresh) {
      said[name] = fresh;
      continue;
    }
    const value = form.elements[name].value;
    if (!value) return null;
    said[name] = Number(value);
  }
  for (const [name, unit] of Object.entries(NUMBERS)) {
    const { value, error } = readNumber(form.elements[name].value, unit);
    if (error || (name === "servings" && !(Number.isInteger(value) && value >= 1))) return null;
    if (value !== null) said[name] = value;
  }
  return said;
};
const asChosen = (typed) => ({
  name: "new",
  step_wh: Number(typed.resolution_wh) || 1,
  step_pct: 1,
  has_charge: Boolean(typed.capacity_wh),
});
const snapshot = (key, words, said, startedMs) => {
  const chosen = Object.fromEntries(
    GEAR.map((name) => [name, words.gear[name].find((one) => one.id === said[name]) || asChosen(said[name])]),
  );
  return {
    run: key,
    uuid: key,
    cook: words.cook,
    recipe: { title: words.title, slug: words.slug },
    servings: said.servings,
    started_at: new Date(startedMs).toISOString(),
    ended_at: null,
    gear: GEAR.map((name) => chosen[name].name).join(", "),
    step_wh: chosen.meter.step_wh,
    step_pct: chosen.source.step_pct,
    has_charge: chosen.source.has_charge !== false,
    live: false,
    stages: words.stages,
    presses: [],
    now: new Date(startedMs).toISOString(),
  };
};
/* Written on the phone first: the start of the cook, and the first stage at the same moment. */
const begin = async (words, said, phoneMs) => {
  const key = uuid();
  const at = { phoneMs, cook: words.cook };
  const cook = { ...outbox.entry(key, "cook", { recipe: words.slug, revision: words.revision, ...said }, at), id: key };
  const first = words.stages.length ? [outbox.entry(key, "event", { kind: "stage", stage: words.stages[0].kind }, at)] : [];
  const run = snapshot(key, words, said, phoneMs - outbox.skewMs());
  await store.putRun(run);
  await outbox.add(cook, ...first);
  return run;
};
const isControlled = () => Boolean(navigator.serviceWorker && navigator.serviceWorker.controller);

/* On the bench's own page: go to the desk as soon as the server has the cook and its first stage, so that the desk's page is made
   from both, or to the phone's own desk where there is no signal. */
const onBench = (form) => {
  const words = JSON.parse(document.getElementById("start-words").textContent);
  store.putRecipe({ ...words, seen: Date.now() }).catch(() => {});
  const button = form.querySelector("button[type=submit]");
  let downMs = 0;
  let started = false;
  button.addEventListener("pointerdown", () => {
    downMs = Date.now();
  });
  const onward = async (key, patienceMs) => {
    const run = await store.run(key);
    const waits = (await store.entries()).some((one) => one.run === key);
    if (run && run.desk && (!waits || Date.now() > patienceMs)) {
      location.assign(run.desk);
      return;
    }
    if (Date.now() > patienceMs && isControlled()) {
      location.assign(`/desk-shell/#${key}`);
      return;
    }
    const bad = (await store.entries()).find((one) => one.id === key && one.state === "trouble");
    if (bad) {
      said(`The server did not take it: ${bad.reason.error || bad.reason.status}`);
      await store.dropEntry(key);
      started = false;
      button.disabled = false;
      return;
    }
    if (outbox.status.signedOut)
      said("Signed out: the start is saved on this phone. Sign in in another tab, and it goes on here.");
    else if (outbox.status.offline)
      said("No signal: the start is saved on this phone with its time. This page goes on to the desk when the server answers.");
    setTimeout(() => onward(key, patienceMs), 150);
  };
  const said = (text) => {
    let line = form.querySelector("[data-said]");
    if (!line) {
      line = make("p", { class: "notice notice--warn", role: "status", "data-said": true });
      form.append(line);
    }
    put(line, text);
  };
  form.addEventListener("submit", async (event) => {
    const given = readForm(form, words);
    const ms = downMs && Date.now() - downMs < 5_000 ? downMs : Date.now();
    if (started) {
      event.preventDefault();
      return;
    }
    if (!given || !store.lasting) return;
    event.preventDefault();
    started = true;
    button.disabled = true;
    const run = await begin(words, given, ms);
    onward(run.run, Date.now() + 5_000);
  });
  outbox.begin();
};

const field = (label, input, unit) => {
  const box = make("div", { class: "field" }, make("label", { for: input.id, text: label }));
  if (!unit) {
    box.append(input);
    return box;
  }
  const understood = make("p", { class: "note", role: "status" });
  box.append(make("div", { class: "field__box" }, input, make("span", { class: "unit", text: unit })), understood);
  input.addEventListener("input", () => {
    const { value, converted } = readNumber(input.value, unit);
    put(understood, converted ? `understood as ${value.toLocaleString("en-GB")} ${unit}` : "");
  });
  return box;
};
const select = (name, words) => {
  const chosen = make("select", { name, id: `start-${name}` });
  for (const one of words.gear[name])
    chosen.append(make("option", { value: one.id, text: one.name, selected: one.id === words.usual[name] }));
  return chosen;
};
const number = (name, value) =>
  make("input", {
    name,
    id: `start-${name}`,
    type: "text",
    inputmode: "decimal",
    autocomplete: "off",
    value: value === null || value === undefined ? "" : value,
  });
const temperature = (name, words) => {
  const input = number(name);
  if (words.assumed) input.placeholder = words.assumed[name];
  return input;
};
const gearField = (label, name, words) => {
  const kinds = words.kinds && words.kinds[name];
  const kind = make("select", { name: `new-${name}-kind`, id: `start-new-${name}-kind` });
  for (const [value, text] of kinds || []) kind.append(make("option", { value, text }));
  const fields = Object.entries(NEW[name]).map(([one, [called, unit]]) => field(called, number(`new-${name}-${one}`), unit));
  return make(
    "div",
    { class: "choice" },
    field(label, select(name, words)),
    make(
      "details",
      { class: "more" },
      make("summary", { text: "New" }),
      ...(kinds ? [field("What it is", kind)] : []),
      ...fields,
    ),
  );
};
const startForm = (words, openSheet) => {
  const form = make(
    "form",
    { class: "plate start__form", novalidate: true },
    make("header", {}, make("h2", { text: words.title })),
    make(
      "div",
      { class: "fields" },
      field("Air around the pot", temperature("ambient_c", words), "°C"),
      field("Food at the start", temperature("food_start_c", words), "°C"),
      gearField("Cooked on", "appliance", words),
      gearField("Plugged into", "source", words),
      gearField("Read from", "meter", words),
      field("Servings", number("servings", words.servings)),
      field("Height above the sea", number("altitude_m", words.altitude_m), "m"),
    ),
    make(
      "div",
      { class: "field field--tick" },
      make(
        "label",
        {},
        make("input", { type: "checkbox", name: "practice" }),
        make("span", { text: "A practice cook: it is left out of the recipe’s figures" }),
      ),
    ),
    make(
      "p",
      { class: "actions start__go" },
      make("button", { class: "desk-press desk-press--log", type: "submit", text: "Switch on and start" }),
    ),
  );
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const given = readForm(form, words);
    if (!given) {
      const refusal = "Choose the gear, and type numbers like 4 or 12.5, or with another unit behind, like 68 °F or 900 ft.";
      form.append(make("p", { class: "error", role: "alert", text: refusal }));
      return;
    }
    const run = await begin(words, given, Date.now());
    history.replaceState(null, "", `/desk-shell/#${run.run}`);
    form.closest("[data-home]").hidden = true;
    openSheet(run);
  });
  return form;
};
const list = (title, links, empty) =>
  make(
    "section",
    { class: "plate" },
    make("header", {}, make("h2", { text: title })),
    links.length
      ? make(
          "ul",
          { class: "todo" },
          ...links.map(([href, text, note]) =>
            make("li", {}, make("a", { href, text }), make("span", { class: "note", text: note })),
          ),
        )
      : make("p", { class: "note", text: empty }),
  );

/* The desk without a signal: the run of this address, the form of this address, or all that this phone keeps. */
export const openShell = async (root, openSheet) => {
  const soon = new Promise((done) => {
    setTimeout(done, 2_000);
  });
  await Promise.race([outbox.askSession().catch(() => {}), soon]);
  const home = root.querySelector("[data-home]");
  const cook = await store.meta("cook");
  const atRun = location.pathname.match(/^\/bench\/runs\/(\d+)\/desk\/$/);
  const atStart = location.pathname.match(/^\/bench\/recipes\/([^/]+)\/cook\/$/);
  const key = (atRun && atRun[1]) || location.hash.slice(1);
  const mine = (one) => !one.cook || !cook || one.cook === cook;
  const found = key && (await store.runs()).filter(mine).find((one) => [one.run, one.uuid, String(one.number)].includes(key));
  if (found) {
    await openSheet(found);
    return;
  }
  const recipe = atStart && (await store.recipe(decodeURIComponent(atStart[1])));
  home.hidden = false;
  outbox.listen(async () => drawState(root.querySelector("[data-state]"), await store.entries()));
  outbox.begin();
  if (recipe && mine(recipe)) {
    home.append(startForm(recipe, openSheet));
    return;
  }
  const runs = (await store.runs()).filter(mine).sort((one, other) => other.started_at.localeCompare(one.started_at));
  const recipes = cook ? (await store.recipes()).filter(mine) : [];
  const day = (text) =>
    new Date(text).toLocaleString("en-GB", { day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" });
  const box = make("div", { class: "queue" });
  home.append(
    list(
      "Cooks on this phone",
      runs.map((one) => [
        /^\d+$/.test(one.run) ? `/bench/runs/${one.run}/desk/` : `/desk-shell/#${one.run}`,
        one.recipe.title,
        day(one.started_at),
      ]),
      "None yet. A cook that was open on this phone is listed here.",
    ),
    list(
      "Start a cook",
      recipes.map((one) => [`/bench/recipes/${one.slug}/cook/`, one.title, `revision ${one.revision}`]),
      "No recipe is saved for offline. Open one while there is a signal, and press “Save for offline”.",
    ),
    box,
  );
  drawPanel(box, await store.entries());
  window.addEventListener("hashchange", () => location.reload());
};
const form = document.querySelector("[data-start-form]");
if (form) onBench(form);
