/* What the meter's device sent last, while somebody looks; a press puts it into the fields. */
import { FIGURES, words } from "./desk-run.js";
import { put } from "./elements.js";
import { outbox } from "./outbox.js";

const LIVE_MS = 5_000;

const ageWords = (oldS) => {
  if (oldS <= 15) return "";
  return oldS < 120 ? ` (${oldS} s ago)` : ` (${Math.round(oldS / 60)} min ago)`;
};
const liveFigures = (said) => {
  const shown = said.last || said;
  if (!FIGURES.some((name) => Number.isFinite(shown[name]))) return null;
  const oldS = Math.round((Date.parse(said.now) - Date.parse(shown.at)) / 1000);
  return { ...shown, note: "", age: ageWords(oldS) };
};
const ask = async (address) => {
  try {
    const response = await fetch(address, { credentials: "same-origin", cache: "no-store" });
    return response.ok ? liveFigures(await response.json()) : null;
  } catch {
    return null;
  }
};

/* `address` and `isOver` are asked anew each time: a cook that began without a signal gets its number later. */
export const watchLive = (sheet, fields, address, isOver) => {
  const button = sheet.querySelector("[data-live]");
  let live = null;
  const poll = async () => {
    if (!document.hidden && !outbox.status.signedOut && !isOver()) {
      live = await ask(address());
      const shown = live && words({ kind: "reading", said: live });
      button.hidden = !shown;
      if (shown) put(sheet.querySelector("[data-live-words]"), `The meter sends ${shown}${live.age}.`);
    }
    setTimeout(poll, LIVE_MS);
  };
  button.addEventListener("click", () => {
    if (!live) return;
    for (const field of fields.all) if (Number.isFinite(live[field.name])) field.set(live[field.name]);
  });
  poll();
};
