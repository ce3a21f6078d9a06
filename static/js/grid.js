/* The grid of readings: keys move from cell to cell, a block from a spreadsheet is pasted across and down, rows appear as
   they are needed, and each row says what does not fit before anything is sent. What is checked here is checked again by
   the server. */
import { make, put } from "./elements.js";
import { clockSpanS, readNumber, tidy } from "./typed.js";

const form = document.querySelector("form[data-grid]");
const list = form.querySelector(".readings");
const blank = document.querySelector(".readings__blank");
const COLUMNS = ["minute", "energy_wh", "power_w", "charge_pct", "stage", "note"];
const FIGURES = { energy_wh: ["Wh", 1e6], power_w: ["W", 1e5], charge_pct: ["%", 100] };
const MOST_ROWS = 120;
const DAY_S = 86400;
const LONGEST_BY_CLOCK_S = 43200;
const MINUTE_S = 60;
const counted = form.querySelector("[name=rows]");

const rows = () => [...list.querySelectorAll("[data-row]")];
const cell = (row, name) => row.querySelector(`[name$="-${name}"]`);
const nameOf = (input) => input.name.replace(/^row\d+-/, "");
const isEmpty = (row) =>
  COLUMNS.every((name) => {
    const value = cell(row, name).value.trim();
    return !value || (name === "stage" && value === cell(row, "proposed").value);
  });

/* Rows */
const numbered = (text, n) => text.replaceAll("__n__", n).replaceAll("__number__", n + 1);
const addRow = () => {
  const n = rows().length;
  if (n >= MOST_ROWS) return null;
  const copy = blank.content.cloneNode(true);
  for (const element of copy.querySelectorAll("*")) {
    for (const one of [...element.attributes]) element.setAttribute(one.name, numbered(one.value, n));
    if (!element.children.length) element.textContent = numbered(element.textContent, n);
  }
  list.append(copy);
  counted.value = n + 1;
  return rows()[n];
};
export const rowAt = (n) => {
  while (rows().length <= n && addRow());
  return rows()[n] || null;
};

/* Moments and numbers, as the server reads them */
const byClock = () => form.querySelector("[name=colon][value=clock]").checked;
const startS = () => {
  const typed = form.querySelector("[name=time]");
  const found = (typed ? typed.value : form.dataset.zero || "").match(/^(\d{1,2}):(\d\d)(?::(\d\d))?/);
  return found ? found[1] * 3600 + found[2] * 60 + Number(found[3] || 0) : null;
};
const timeOfDay = (found) => {
  let hours = Number(found[1]);
  if (found[4]) hours = hours >= 1 && hours <= 12 ? (hours % 12) + (found[4].toLowerCase() === "p" ? 12 : 0) : 24;
  return hours > 23 ? null : hours * 3600 + found[2] * 60 + Number(found[3] || 0);
};
const clockS = (text, found) => {
  const zero = startS();
  const clock = timeOfDay(found);
  if (clock === null) return { words: `“${text}” is no time of day. Type it like 18:42.` };
  if (zero === null) return { words: `“${text}” needs the time at which it was switched on. Put that right above.` };
  const spanS = (clock - zero + DAY_S) % DAY_S;
  const atS = spanS > DAY_S - MINUTE_S ? 0 : spanS;
  if (atS > LONGEST_BY_CLOCK_S)
    return { words: `${text} is more than half a day after the start. Times run over 24 hours, like 18:42.` };
  return { atS, clock: true };
};
const moment = (text) => {
  const clock = text.trim().match(/^(\d{1,2}):([0-5]\d)(?::([0-5]\d))?\s*(?:([ap])\.?m\.?)?$/i);
  if (clock && (clock[4] || byClock())) return clockS(text.trim(), clock);
  const plain = tidy(text).replace(/min$/, "");
  const spanS = clockSpanS(plain);
  if (spanS !== null) return { atS: spanS };
  if (/^\d*\.?\d+$|^\d+\.$/.test(plain)) return { atS: Number(plain) * 60 };
  return { words: `“${text.trim()}” is not a time. Type the clock, like 18:42, or minutes since the start, like 12.` };
};
const written = (atS) => String(Math.round((atS / 60) * 100) / 100);
const figure = (text, [unit, most]) => {
  const { value, error } = readNumber(text, unit);
  return !error && value !== null && value >= 0 && value <= most ? value : NaN;
};

/* What does not fit is told beside its row */
const tell = (row, words, isPlain) => {
  let told = row.querySelector(".reading__told");
  if (!told && !words) return;
  if (!told) {
    told = make("p", { "aria-live": "polite" });
    row.append(told);
  }
  told.className = isPlain ? "reading__told reading__told--plain" : "reading__told";
  put(told, words);
};
const wrongFigure = (row) =>
  Object.keys(FIGURES).flatMap((name) => {
    const text = cell(row, name).value.trim();
    const [unit, most] = FIGURES[name];
    return text && Number.isNaN(figure(text, FIGURES[name]))
      ? [readNumber(text, unit).error ?? `“${text}” is not a number from 0 to ${most.toLocaleString("en")} ${unit}.`]
      : [];
  });
const checkRow = (row, before) => {
  const text = cell(row, "minute").value;
  const at = text.trim() ? moment(text) : null;
  const words = wrongFigure(row);
  if (!at) words.unshift("At what time?");
  else if (at.words) words.unshift(at.words);
  else if (at.atS < before.atS)
    words.unshift(`Time goes backward here: minute ${written(at.atS)} after minute ${written(before.atS)}.`);
  const counter = figure(cell(row, "energy_wh").value, FIGURES.energy_wh);
  const reset = cell(row, "reset");
  if (counter < before.counter && !(reset && reset.checked))
    words.push(`The counter falls here, from ${before.counter} to ${counter} Wh.`);
  if (at && at.atS >= before.atS) before.atS = at.atS;
  if (!Number.isNaN(counter)) before.counter = counter;
  tell(row, words.join(" ") || (at && at.clock ? `Minute ${written(at.atS)}.` : ""), !words.length);
};
export const check = () => {
  const before = { atS: 0, counter: 0 };
  for (const row of rows()) {
    if (isEmpty(row)) tell(row, "");
    else checkRow(row, before);
    if (row.querySelector(".error")) tell(row, "");
  }
};

/* Keys */
const go = (row, name) => {
  const target = row && cell(row, name);
  if (!target) return false;
  target.focus();
  if (target.select) target.select();
  return true;
};
const beside = (input, by) => COLUMNS[COLUMNS.indexOf(nameOf(input)) + by];
const atEdge = (input, by) => {
  if (input.tagName === "SELECT") return true;
  const { selectionStart: from, selectionEnd: to, value } = input;
  return (from === 0 && to === value.length) || (from === to && to === (by < 0 ? 0 : value.length));
};
const moved = (event, input) => {
  const at = rows().indexOf(input.closest("[data-row]"));
  const name = nameOf(input);
  const isSelect = input.tagName === "SELECT";
  const up = event.key === "ArrowUp" || (event.key === "Enter" && event.shiftKey);
  if (event.key === "Enter" || (!isSelect && (up || event.key === "ArrowDown")))
    return go(up ? rows()[at - 1] : rowAt(at + 1), name) || event.key === "Enter";
  const by = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
  return Boolean(by) && atEdge(input, by) && go(rows()[at], beside(input, by));
};
list.addEventListener("keydown", (event) => {
  const input = event.target.closest("[data-row] input:not([type=checkbox]), [data-row] select");
  if (!input || event.isComposing || event.altKey || event.ctrlKey || event.metaKey) return;
  if (moved(event, input)) event.preventDefault();
});

/* A block of cells, pasted */
const stageNamed = (select, text) => {
  const asked = text.trim().toLowerCase();
  return [...select.options].find((one) => one.value === asked || one.text.toLowerCase() === asked || (!asked && !one.value));
};
const fill = (row, name, text) => {
  const target = cell(row, name);
  if (name !== "stage") target.value = text.trim();
  else if (stageNamed(target, text)) target.value = stageNamed(target, text).value;
  else return `“${text.trim()}” is no stage; choose one.`;
  return "";
};
list.addEventListener("paste", (event) => {
  const input = event.target.closest("[data-row] input, [data-row] select");
  const text = event.clipboardData.getData("text/plain");
  if (!input || !/[\t\n]/.test(text.trimEnd())) return;
  event.preventDefault();
  const lines = text.replace(/\r\n?/g, "\n").replace(/\n+$/, "").split("\n");
  const at = rows().indexOf(input.closest("[data-row]"));
  const first = COLUMNS.indexOf(nameOf(input));
  const odd = lines.flatMap((line, n) => {
    const row = rowAt(at + n);
    if (row) withdraw(row);
    if (!row) return n + at === MOST_ROWS ? [`Only ${MOST_ROWS} rows fit: the rest was not pasted.`] : [];
    return line
      .split("\t")
      .map((one, m) =>
        COLUMNS[first + m] ? fill(row, COLUMNS[first + m], one) : one.trim() && `“${one.trim()}” stood outside the grid.`,
      )
      .filter(Boolean)
      .map((words) => `Row ${at + n + 1}: ${words}`);
  });
  input.dispatchEvent(new Event("input", { bubbles: true }));
  note(odd.join(" "));
  check();
});
const keys = form.querySelector(".readings__keys");
const howTo = keys.textContent;
keys.hidden = false;
keys.setAttribute("aria-live", "polite");
const note = (words) => {
  keys.textContent = words || howTo;
};

const withdraw = (row) => {
  for (const error of row.querySelectorAll(".error")) error.remove();
  for (const one of row.querySelectorAll("[aria-invalid]")) one.removeAttribute("aria-invalid");
  row.classList.remove("reading--bad");
};
list.addEventListener("input", (event) => {
  const row = event.target.closest("[data-row]");
  if (row) withdraw(row);
  if (row && row === rows().at(-1) && !isEmpty(row)) addRow();
});
/* Leaving a cell by pressing a button must not move that button from under the finger: the words wait until it is up. */
const SETTLED_MS = 50;
let isPressed = false;
let isDue = false;
const soon = () => {
  isDue = true;
  if (!isPressed) settle();
};
const settle = () => {
  if (isDue) check();
  isDue = false;
};
document.addEventListener("pointerdown", () => {
  isPressed = true;
});
for (const end of ["pointerup", "pointercancel"])
  document.addEventListener(end, () => {
    isPressed = false;
    setTimeout(settle, SETTLED_MS);
  });
form.addEventListener("change", soon);
if (rows().some((row) => !isEmpty(row) && cell(row, "energy_wh").value)) check();
