// A step or a part is moved by its number: pressed, drawn to another place and let go. By keys: see editor-keys.js.
const form = document.querySelector("#draft-form");
const EDGE_PX = 70;
let drag = null;

const rowsBeside = (row) => [...row.parentElement.children].filter((one) => "place" in one.dataset);
const placeAt = (y) => {
  const middles = drag.rows.filter((one) => one !== drag.row).map((one) => one.getBoundingClientRect());
  return middles.filter((box) => box.top + box.height / 2 < y).length;
};
const mark = (to) => {
  const others = drag.rows.filter((one) => one !== drag.row);
  others.forEach((one, place) => {
    one.classList.toggle("is-before", place === to);
    one.classList.toggle("is-after", place === others.length - 1 && to === others.length);
  });
};
const end = () => {
  drag.row.removeAttribute("style");
  drag.row.classList.remove("is-drawn");
  drag.rows.forEach((one) => one.classList.remove("is-before", "is-after"));
  drag = null;
};

form.addEventListener("pointerdown", (event) => {
  const grip = event.target.closest(".grip");
  if (!grip || event.button !== 0) return;
  const row = grip.closest("[data-place]");
  drag = { row, rows: rowsBeside(row), from: Number(row.dataset.place), y: event.clientY + window.scrollY };
  drag.to = drag.from;
  grip.setPointerCapture(event.pointerId);
  row.classList.add("is-drawn");
  event.preventDefault();
});
form.addEventListener("pointermove", (event) => {
  if (!drag) return;
  if (event.clientY < EDGE_PX) window.scrollBy(0, -12);
  else if (event.clientY > window.innerHeight - EDGE_PX) window.scrollBy(0, 12);
  drag.row.style.translate = `0 ${event.clientY + window.scrollY - drag.y}px`;
  drag.to = placeAt(event.clientY);
  mark(drag.to);
});
form.addEventListener("pointerup", () => {
  if (!drag) return;
  const { row, from, to } = drag;
  end();
  const button = row.querySelector(`button[value$="-${from}-${to < from ? "up" : "down"}"]`);
  if (!button || to === from) return;
  button.value = button.value.replace(/(up|down)$/, `to-${to}`);
  button.click();
});
form.addEventListener("pointercancel", () => drag && end());
document.addEventListener("keydown", (event) => {
  if (drag && event.key === "Escape") end();
});
