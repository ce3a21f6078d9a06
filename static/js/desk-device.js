/* What this browser can do for the run desk, in words, with what to do about what it cannot. */
import { store } from "./desk-store.js";
import { make } from "./elements.js";
import { outbox } from "./outbox.js";

const list = document.querySelector("[data-abilities]");
const SIGNS = { yes: "✓", so: "~", no: "✗" };
const add = (sign, title, words, act) => {
  const mark = make("span", { class: `sign sign--${sign}`, "aria-hidden": "true", text: SIGNS[sign] });
  const row = make("div", {}, mark, make("dt", { text: title }), make("dd", { text: words }));
  if (act) {
    const [label, press] = act;
    row.append(make("dd", {}, make("button", { type: "button", class: "button button--quiet", text: label, onclick: press })));
  }
  list.append(row);
};
const persist = async () => {
  await navigator.storage.persist();
  location.reload();
};
const register = async () => {
  await navigator.serviceWorker.register("/worker.js", { scope: "/" });
  await navigator.serviceWorker.ready;
  location.reload();
};

add(
  self.isSecureContext ? "yes" : "no",
  self.isSecureContext ? "A secure address" : "Not a secure address",
  self.isSecureContext
    ? "Pages can be saved and the screen can stay on."
    : "Over plain HTTP a browser saves no pages and lets the screen go dark. Open this site over HTTPS. " +
        "What you record is saved all the same while the desk stays open.",
);
await store.entries();
add(
  store.lasting ? "yes" : "no",
  store.lasting ? "Keeps presses on this device" : "Keeps nothing beyond an open page",
  store.lasting
    ? "What you log is written here before it is sent."
    : "This is perhaps a private window. Use an ordinary one, or do not close the desk before everything is sent.",
);
const worker = "serviceWorker" in navigator && (await navigator.serviceWorker.getRegistration("/").catch(() => null));
if (worker) add("yes", "Opens without a signal", "The cooking desk and what you saved for offline are here.");
else if ("serviceWorker" in navigator)
  add(
    "so",
    "Does not open without a signal yet",
    "The cooking desk can be saved on this device. Recipes are saved for offline on their own pages.",
    ["Save the cooking desk here", register],
  );
else
  add(
    "no",
    "Cannot open without a signal",
    self.isSecureContext ? "This browser saves no pages. Use another one, or leave the desk open." : "It needs HTTPS.",
  );
if ("wakeLock" in navigator)
  add("yes", "Keeps the screen on", "While a cook goes on and the desk is in front. A phone that saves its battery may refuse.");
else
  add(
    "so",
    "Lets the screen go dark",
    `${self.isSecureContext ? "This browser cannot keep it on." : "It needs HTTPS."} Minutes go on all the same; ` +
      "set the phone’s screen to stay on for longer.",
  );
if (navigator.storage && navigator.storage.persisted) {
  const safe = await navigator.storage.persisted();
  add(
    safe ? "yes" : "so",
    safe ? "Keeps it for good" : "May be cleared when the phone is full",
    safe
      ? "The browser will not clear it by itself."
      : "Ask the browser to keep it; it may want the page to be used a few times first.",
    safe ? null : ["Ask it to keep it", persist],
  );
}
try {
  await outbox.askSession();
  const skewS = outbox.status.skewS;
  const off = Math.abs(skewS);
  add(
    off > 120 ? "no" : "yes",
    off > 120 ? `The clock is ${Math.round(off / 60)} minutes ${skewS > 0 ? "ahead" : "behind"}` : "The clock is right",
    off > 120
      ? "Set it to network time. Until then the server’s time is used."
      : `Within ${off < 1 ? "a second" : `${Math.ceil(off)} seconds`} of the server’s.`,
  );
} catch {
  add("so", "The clock could not be compared", "The server does not answer now. Open this page again when there is a signal.");
}
const entries = await store.entries();
const bad = entries.filter((one) => one.state === "trouble").length;
const waiting = `${entries.length} press${entries.length === 1 ? "" : "es"}`;
if (entries.length)
  add(
    bad ? "no" : "so",
    `${waiting} on this device`,
    bad ? `${bad} of them need attention: open the cooking desk.` : "They go out by themselves when there is a signal.",
    [
      "To the cooking desk",
      () => {
        location.href = "/desk-shell/";
      },
    ],
  );
else add("yes", "Nothing waits", "Everything that was logged here is on the server.");
if (self.BroadcastChannel && !navigator.locks)
  add("so", "Tabs take turns by a note", "Two open desks may send the same press; the server saves it once.");
await outbox.begin();
