/* The page of what this device keeps: size and day of each, whether there is something newer, and how to take it away. */
import { make } from "./elements.js";
import { begin, drop, isNewer, isSaved, keep, saved, sizeWords } from "./saved.js";

const list = document.querySelector("[data-saved]");
const whole = document.querySelector("[data-library]");
const said = document.querySelector("[data-saved-said]");
const say = (words) => {
  said.textContent = words;
};
const dayWords = (day) => new Date(day).toLocaleDateString("en-GB", { day: "numeric", month: "long", year: "numeric" });
const told = (note) => {
  const recipes = Object.keys(note.editions).length;
  return `${recipes} recipe${recipes === 1 ? "" : "s"}, ${sizeWords(note.bytes)}, saved ${dayWords(note.day)}`;
};
const guarded = (button, act) =>
  button.addEventListener("click", async () => {
    button.disabled = true;
    try {
      await act();
    } catch (error) {
      say(`That did not work (${error.message || error}). Is there a signal, and space on this device? Then try again.`);
    }
    button.disabled = false;
  });
const heard = (done, of) => say(`${done} of ${of} pages`);
const row = (note) => {
  const newer = make("button", { type: "button", class: "button", hidden: true, text: "Update" });
  const gone = make("button", { type: "button", class: "button button--quiet", text: "Remove" });
  newer.setAttribute("aria-label", `Update ${note.title}`);
  gone.setAttribute("aria-label", `Remove ${note.title} from this device`);
  const state = make("span", { class: "note", text: told(note) });
  guarded(newer, async () => {
    await keep({ ...note, heard });
    say(`${note.title} is up to date.`);
    await draw();
  });
  guarded(gone, async () => {
    await drop(note.page);
    say(`${note.title} is no longer kept on this device.`);
    await draw();
    whole.focus();
  });
  isNewer(note).then((is) => {
    newer.hidden = !is;
    if (is) state.textContent = `${told(note)}; there is something newer`;
  });
  const words = make("span", {}, make("a", { href: note.page, text: note.title }), make("br", {}), state);
  return make("li", {}, words, make("span", { class: "row" }, newer, gone));
};
const draw = async () => {
  const notes = await saved();
  list.replaceChildren(...notes.map(row));
  list.hidden = !notes.length;
  document.querySelector("[data-saved-none]").hidden = Boolean(notes.length);
  whole.hidden = await isSaved(whole.dataset.library);
};
if ("serviceWorker" in navigator && self.caches) {
  guarded(whole, async () => {
    await begin();
    const note = await keep({ page: whole.dataset.library, data: whole.dataset.data, title: whole.dataset.title, heard });
    say(`Saved (${sizeWords(note.bytes)}): the library opens without a signal on this device.`);
    await draw();
  });
  await draw();
} else {
  document.querySelector("[data-saved-cannot]").hidden = false;
}
