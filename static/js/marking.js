/* Marks on a power curve: each row of the form and both ends of the cook get a handle below the curve. A handle moves its typed
   minute, a typed minute moves its handle; what is sent is the form. */
import { clockSpanS, tidy } from "./typed.js";

const form = document.querySelector("form.marking");
const chart = form.querySelector(".marking__chart");
const track = chart.querySelector(".marking__track");
const drawings = [...chart.querySelectorAll("svg")];
const startS = Number(form.dataset.startS);
const endS = Math.max(Number(form.dataset.endS), startS + 60);
const [zeroH, zeroM, zeroS] = form.dataset.zero.split(":").map(Number);
const stepS = 6;
const pageS = 60;

const read = (text) => {
  const plain = tidy(text).replace(/min$/, "");
  const spanS = clockSpanS(plain);
  if (spanS !== null) return spanS;
  return /^-?\d+(\.\d*)?$/.test(plain) ? Number(plain) * 60 : null;
};
const written = (atS) => String(Math.round(atS / 6) / 10);
const clockAt = (atS) => {
  const day = 24 * 3600;
  const whole = (((zeroH * 3600 + zeroM * 60 + zeroS + Math.round(atS)) % day) + day) % day;
  return [whole / 3600, (whole / 60) % 60, whole % 60].map((part) => String(Math.floor(part)).padStart(2, "0")).join(":");
};
const rounded = (atS) => Math.min(endS, Math.max(startS, Math.round(atS / stepS) * stepS));
const held = (mark, atS) => {
  const begins = ends[0].atS ?? startS;
  const finishes = ends[1].atS ?? endS;
  const [low, high] =
    mark === ends[0] ? [startS, finishes - stepS] : mark === ends[1] ? [begins + stepS, endS] : [begins, finishes];
  return Math.min(Math.max(atS, Math.min(low, high)), high);
};

const marks = [];
const addMark = (input, face, name, isEnd) => {
  const handle = document.createElement("button");
  handle.type = "button";
  handle.className = isEnd ? "handle handle--end" : "handle";
  handle.textContent = face;
  handle.setAttribute("role", "slider");
  handle.setAttribute("aria-valuemin", written(startS));
  handle.setAttribute("aria-valuemax", written(endS));
  track.append(handle);
  const mark = { input, handle, name, isEnd, atS: null };
  marks.push(mark);
  input.addEventListener("input", () => {
    take(mark);
    draw();
  });
  handle.addEventListener("pointerdown", (event) => grab(mark, event));
  handle.addEventListener("keydown", (event) => press(mark, event));
  take(mark);
  return mark;
};
const take = (mark) => {
  const atS = read(mark.input.value);
  mark.atS = atS === null || atS < startS - 1 || atS > endS + 1 ? null : atS;
};
const move = (mark, atS) => {
  const now = held(mark, rounded(atS));
  if (now === mark.atS) return;
  mark.atS = now;
  mark.input.value = written(now);
  draw();
};

const shown = () => drawings.find((svg) => svg.getBoundingClientRect().width > 0) || drawings[0];
const plotOf = (svg) => {
  const box = svg.getBoundingClientRect();
  const frame = chart.getBoundingClientRect();
  const view = svg.viewBox.baseVal.width;
  const scale = box.width / view;
  return {
    left: box.left - frame.left + svg.dataset.left * scale,
    width: (svg.dataset.right - svg.dataset.left) * scale,
    page: box.left + svg.dataset.left * scale,
  };
};
const grab = (mark, event) => {
  if (event.button !== 0 && event.pointerType === "mouse") return;
  event.preventDefault();
  mark.handle.focus();
  mark.handle.setPointerCapture(event.pointerId);
  mark.handle.classList.add("handle--moving");
  const plot = plotOf(shown());
  const offset = event.clientX - plot.page - ((mark.atS - startS) / (endS - startS)) * plot.width;
  const follow = (at) => move(mark, startS + ((at.clientX - plot.page - offset) / plot.width) * (endS - startS));
  const drop = () => {
    mark.handle.classList.remove("handle--moving");
    mark.handle.removeEventListener("pointermove", follow);
  };
  mark.handle.addEventListener("pointermove", follow);
  mark.handle.addEventListener("pointerup", drop, { once: true });
  mark.handle.addEventListener("pointercancel", drop, { once: true });
};
const press = (mark, event) => {
  const by = event.shiftKey ? pageS : stepS;
  const to = {
    ArrowLeft: mark.atS - by,
    ArrowDown: mark.atS - by,
    ArrowRight: mark.atS + by,
    ArrowUp: mark.atS + by,
    PageDown: mark.atS - 5 * pageS,
    PageUp: mark.atS + 5 * pageS,
    Home: startS,
    End: endS,
  }[event.key];
  if (to === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
  event.preventDefault();
  move(mark, to);
};

const node = (kind, attributes, text) => {
  const made = document.createElementNS("http://www.w3.org/2000/svg", kind);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  if (text) made.textContent = text;
  return made;
};
const drawOn = (svg) => {
  const { left, right, top, bottom } = Object.fromEntries(
    ["left", "right", "top", "bottom"].map((name) => [name, Number(svg.dataset[name])]),
  );
  const x = (atS) => left + ((atS - startS) / (endS - startS)) * (right - left);
  const begins = x(ends[0].atS ?? startS);
  const finishes = x(ends[1].atS ?? endS);
  const parts = [
    node("rect", { class: "outside", x: left, y: top, width: Math.max(0, begins - left), height: bottom - top }),
    node("rect", { class: "outside", x: finishes, y: top, width: Math.max(0, right - finishes), height: bottom - top }),
  ];
  for (const mark of marks) {
    if (mark.atS === null) continue;
    const at = x(mark.atS);
    parts.push(
      node("line", { class: mark.isEnd ? "mark mark--end" : "mark", x1: at, x2: at, y1: top, y2: bottom + (mark.isEnd ? 0 : 4) }),
    );
    if (!mark.isEnd) parts.push(node("text", { class: "mark__number", x: at, y: top, dx: 5, dy: 12 }, mark.handle.textContent));
  }
  svg.querySelector(".marks").replaceChildren(...parts);
};
const place = () => {
  const plot = plotOf(shown());
  const taken = [];
  const size = 48;
  const seen = marks.filter((mark) => mark.atS !== null).sort((one, other) => one.atS - other.atS);
  let rows = 1;
  for (const mark of seen) {
    const at = plot.left + ((mark.atS - startS) / (endS - startS)) * plot.width;
    let row = 0;
    while (taken[row] !== undefined && at - taken[row] < size) row += 1;
    taken[row] = at;
    rows = Math.max(rows, row + 1);
    mark.handle.style.left = `${Math.min(Math.max(at, 22), chart.clientWidth - 22)}px`;
    mark.handle.style.top = `${row * size}px`;
  }
  track.style.height = `${rows * size + 4}px`;
};
const draw = () => {
  for (const mark of marks) {
    mark.handle.hidden = mark.atS === null;
    if (mark.atS === null) continue;
    mark.handle.setAttribute("aria-label", mark.name());
    mark.handle.setAttribute("aria-valuenow", written(mark.atS));
    mark.handle.setAttribute("aria-valuetext", `minute ${written(mark.atS)}, ${clockAt(mark.atS)}`);
  }
  drawings.forEach(drawOn);
  place();
};

const ends = [
  addMark(form.querySelector("[name=begins]"), "⇤", () => "The cook begins", true),
  addMark(form.querySelector("[name=ends]"), "⇥", () => "The cook ends", true),
];
for (const row of form.querySelectorAll("[data-row]")) {
  const kind = row.querySelector("select");
  const name = () => `Stage ${row.dataset.row}${kind.value ? `, ${kind.selectedOptions[0].textContent}` : ""}`;
  const mark = addMark(row.querySelector("[name$='-minute']"), row.dataset.row, name, false);
  kind.addEventListener("change", () => {
    if (kind.value && mark.input.value === "") move(mark, ((ends[0].atS ?? startS) + (ends[1].atS ?? endS)) / 2);
    draw();
  });
}
track.hidden = false;
chart.querySelector(".marking__how").hidden = false;
new ResizeObserver(place).observe(chart);
draw();
