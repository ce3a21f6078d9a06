/* Three figures with steppers: a comma is a decimal point, steppers go on from what was shown last, a held one keeps going. */
import { put } from "./elements.js";
import { readNumber } from "./typed.js";

const LIMITS = { energy_wh: 1e9, power_w: 1e5, charge_pct: 100 };

const makeField = (box, changed) => {
  const name = box.dataset.figure;
  const unit = box.dataset.unit || "";
  const input = box.querySelector("input");
  const lastWords = box.querySelector("[data-last]");
  let step = Number(box.dataset.step) || 1;
  let last = null;
  let lastAt = "";
  /* Empty, the grey number is the last one, and this says of when; typed over, what the last one was, or what a unit
     makes of it. */
  const sayLast = () => {
    const now = readNumber(input.value, unit);
    if (now.converted) return put(lastWords, `, understood as ${now.value.toLocaleString("en-GB")} ${unit}`);
    const words = last === null ? "" : input.value.trim() ? `, last ${last}` : ` at ${lastAt}`;
    return put(lastWords, words);
  };
  const refuse = (words) => {
    let error = box.querySelector(".figure-field__error");
    box.classList.toggle("figure-field--bad", Boolean(words));
    input.toggleAttribute("aria-invalid", Boolean(words));
    if (!words) {
      if (error) error.remove();
      return;
    }
    if (!error) {
      error = document.createElement("p");
      error.className = "error figure-field__error";
      error.setAttribute("role", "alert");
      error.id = `${input.id}_error`;
      box.append(error);
      input.setAttribute("aria-describedby", error.id);
    }
    error.textContent = words;
  };
  const by = (steps) => {
    const now = readNumber(input.value, unit);
    const from = now.value ?? last ?? 0;
    const whole = Math.round((from + steps * step) * 1e6) / 1e6;
    input.value = String(Math.min(LIMITS[name], Math.max(0, whole)));
    refuse("");
    sayLast();
    changed();
  };
  for (const [part, direction] of [
    ["[data-less]", -1],
    ["[data-more]", 1],
  ]) {
    const button = box.querySelector(part);
    let timer = 0;
    let times = 0;
    let held = false;
    const repeat = () => {
      held = true;
      times += 1;
      by(direction * (times > 25 ? 10 : 1));
      timer = setTimeout(repeat, 90);
    };
    const stop = () => clearTimeout(timer);
    button.hidden = false;
    button.addEventListener("pointerdown", () => {
      times = 0;
      held = false;
      stop();
      timer = setTimeout(repeat, 500);
    });
    for (const over of ["pointerup", "pointercancel", "pointerleave"]) button.addEventListener(over, stop);
    button.addEventListener("contextmenu", (event) => event.preventDefault());
    button.addEventListener("click", () => {
      if (!held) by(direction);
      held = false;
    });
  }
  input.addEventListener("input", () => {
    refuse("");
    sayLast();
    changed();
  });
  input.addEventListener("keydown", (event) => {
    if (event.key !== "ArrowUp" && event.key !== "ArrowDown") return;
    event.preventDefault();
    by(event.key === "ArrowUp" ? 1 : -1);
  });
  return {
    name,
    input,
    box,
    get isEmpty() {
      return !input.value.trim();
    },
    set(value) {
      input.value = value === null || value === undefined ? "" : String(value);
      refuse("");
      sayLast();
    },
    setStep(size) {
      if (size) step = size;
    },
    show(shown, clockWords) {
      last = shown ? shown.value : null;
      input.placeholder = shown ? String(shown.value) : "–";
      lastAt = clockWords;
      sayLast();
    },
    take() {
      const { value, error } = readNumber(input.value, unit);
      const most = LIMITS[name];
      const words =
        error ||
        (value !== null && (value < 0 || value > most)
          ? `A number from 0 to ${most.toLocaleString("en-GB")} is needed here.`
          : "");
      refuse(words);
      return { value, bad: Boolean(words) };
    },
    refuse,
  };
};

/* {values, bad, empty}: what the three say; nothing is taken while one of them is wrong. */
export const deskFields = (sheet, changed) => {
  const all = [...sheet.querySelectorAll("[data-figure]")].map((box) => makeField(box, changed));
  return {
    all,
    named: (name) => all.find((field) => field.name === name),
    get isEmpty() {
      return all.every((field) => field.isEmpty);
    },
    clear() {
      for (const field of all) field.set(null);
    },
    take() {
      const taken = all.map((field) => [field.name, field.take()]);
      const values = Object.fromEntries(taken.filter(([, one]) => one.value !== null).map(([name, one]) => [name, one.value]));
      return { values, bad: taken.some(([, one]) => one.bad), empty: Object.keys(values).length === 0 };
    },
  };
};
