/* Ticks of a list stay on this device, with or without a network, until their day is over. */
const key = `ticks ${location.search}`;
const today = new Date().toDateString();
const boxes = [...document.querySelectorAll("[data-tick]")];

function held() {
  try {
    const kept = JSON.parse(localStorage.getItem(key));
    return kept && kept.day === today ? kept.ticked : [];
  } catch {
    return [];
  }
}

const ticked = new Set(held());
for (const box of boxes) {
  box.checked = ticked.has(box.dataset.tick);
  box.addEventListener("change", () => {
    ticked[box.checked ? "add" : "delete"](box.dataset.tick);
    try {
      localStorage.setItem(key, JSON.stringify({ day: today, ticked: [...ticked] }));
    } catch {
      box.closest("label").title = "This browser keeps no ticks.";
    }
  });
}
