/* The cooking view: one step at a time, timers, ticks. A timer is kept as the instant at which it ends, so that a locked phone or
   a closed page does not stop it; what is kept stays on this device and is forgotten after half a day. */
import { awake } from "./desk-awake.js";

const HALF_A_DAY_MS = 12 * 3600 * 1000;
const root = document.querySelector("[data-cook]");
const steps = [...root.querySelectorAll(".cook__step")];
const key = `cook ${root.dataset.cook}`;
const bar = document.querySelector("[data-cook-bar]");
const [back, next] = [bar.querySelector("[data-cook-back]"), bar.querySelector("[data-cook-next]")];
const shelf = document.querySelector("[data-timers]");
const says = document.querySelector("[data-cook-says]");

const fresh = () => ({ what: root.dataset.cookFor, at: 0, ticks: [], timers: {}, rung: [] });
const read = () => {
  try {
    const kept = JSON.parse(localStorage.getItem(key));
    return kept && kept.what === root.dataset.cookFor && Date.now() - kept.seen < HALF_A_DAY_MS ? kept : fresh();
  } catch {
    return fresh();
  }
};
let state = read();
const keep = () => {
  try {
    localStorage.setItem(key, JSON.stringify({ ...state, seen: Date.now() }));
  } catch {
    /* Without room the page still works, and forgets. */
  }
};

const show = (focus) => {
  state.at = Math.min(Math.max(state.at, 0), steps.length - 1);
  steps.forEach((step, place) => {
    step.hidden = place !== state.at;
  });
  back.disabled = state.at === 0;
  const last = state.at === steps.length - 1;
  next.textContent = last ? "Done" : `Next, ${state.at + 1} of ${steps.length - 1}`;
  if (!focus) return;
  const heading = steps[state.at].querySelector("h2[tabindex]");
  heading.focus({ preventScroll: true });
  document.querySelector(".cook__steps").scrollIntoView({ block: "start" });
};
const go = (by) => {
  state.at += by;
  keep();
  show(true);
};

/* A sound may start only from a press, so the first timer makes it ready. */
let sound = null;
const ring = () => {
  if (navigator.vibrate) navigator.vibrate([400, 200, 400]);
  if (!sound) return;
  for (const after of [0, 0.5, 1]) {
    const tone = sound.createOscillator();
    tone.frequency.value = 880;
    tone.connect(sound.destination);
    tone.start(sound.currentTime + after);
    tone.stop(sound.currentTime + after + 0.25);
  }
};
const clock = (ms) => {
  const s = Math.ceil(ms / 1000);
  const two = (n) => String(n).padStart(2, "0");
  const hours = Math.floor(s / 3600);
  return `${hours ? `${hours}:${two(Math.floor(s / 60) % 60)}` : Math.floor(s / 60)}:${two(s % 60)}`;
};
const row = (of) => {
  const item = document.createElement("li");
  item.append(document.createElement("b"), document.createElement("span"));
  for (const [words, act] of [
    ["One minute more", () => (state.timers[of] = Math.max(state.timers[of], Date.now()) + 60000)],
    ["Stop", () => delete state.timers[of]],
  ]) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "button button--quiet";
    button.textContent = words;
    button.setAttribute("aria-label", `${words}, step ${of}`);
    button.addEventListener("click", () => {
      act();
      state.rung = state.rung.filter((one) => one !== of);
      keep();
      tick();
    });
    item.append(button);
  }
  return item;
};
const rows = new Map();
const tick = () => {
  for (const [of, item] of rows) {
    if (of in state.timers) continue;
    item.remove();
    rows.delete(of);
  }
  for (const [of, end] of Object.entries(state.timers)) {
    if (!rows.has(of)) {
      rows.set(of, row(of));
      shelf.append(rows.get(of));
    }
    const left = end - Date.now();
    const item = rows.get(of);
    item.className = left > 0 ? "" : "done";
    item.querySelector("b").textContent = left > 0 ? clock(left) : "Time is up";
    item.querySelector("span").textContent = left > 0 ? `left, step ${of}` : `step ${of}`;
    if (left <= 0 && !state.rung.includes(of)) {
      state.rung.push(of);
      says.textContent = `Time is up: step ${of}.`;
      keep();
      ring();
    }
  }
  shelf.hidden = rows.size === 0;
};

for (const button of root.querySelectorAll("[data-timer]")) {
  button.hidden = false;
  button.addEventListener("click", () => {
    const of = button.dataset.timerOf;
    sound ??= self.AudioContext ? new AudioContext() : null;
    state.timers[of] = Date.now() + Number(button.dataset.timer) * 1000;
    state.rung = state.rung.filter((one) => one !== of);
    says.textContent = `Timer started: step ${of}.`;
    keep();
    tick();
  });
}
for (const box of root.querySelectorAll("[data-tick]")) {
  box.checked = state.ticks.includes(box.dataset.tick);
  box.addEventListener("change", () => {
    state.ticks = [...root.querySelectorAll("[data-tick]:checked")].map((one) => one.dataset.tick);
    keep();
  });
}
back.addEventListener("click", () => go(-1));
next.addEventListener("click", () => {
  if (state.at < steps.length - 1) go(1);
  else location.assign(document.querySelector(".cook__head a").href);
});
document.querySelector("[data-cook-anew]").addEventListener("click", () => {
  state = fresh();
  keep();
  for (const box of root.querySelectorAll("[data-tick]")) box.checked = false;
  tick();
  show(true);
});
document.querySelector("[data-cook-kept]").hidden = false;
bar.hidden = false;
show(false);
tick();
setInterval(tick, 500);
document.addEventListener("visibilitychange", tick);
awake(true);
