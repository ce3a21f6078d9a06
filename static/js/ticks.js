/* Ticks of a list stay on this device, with or without a network, until their day is over; the list itself can be kept here. */
import { parts } from "./saved.js";

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

const button = document.querySelector("[data-keep-list]");
const said = document.querySelector("[data-keep-said]");
async function keep() {
  await navigator.serviceWorker.register("/worker.js", { scope: "/" });
  await navigator.serviceWorker.ready;
  const cache = await caches.open("wattfare-lists");
  await Promise.all(parts(document).map((address) => cache.add(address).catch(() => {})));
  await cache.add(location.href);
}
if (button && "serviceWorker" in navigator && self.caches) {
  button.hidden = false;
  button.addEventListener("click", async () => {
    button.disabled = true;
    said.textContent = await keep().then(
      () => "Saved: it opens without a signal on this device until you sign out.",
      () => "That did not work. Is there a signal, and space on this device? Then try again.",
    );
    button.disabled = false;
  });
}
