/* The run desk: a press is drawn, written to this phone, and then sent. The time is that of the finger coming down. */
import { awake } from "./desk-awake.js";
import * as face from "./desk-face.js";
import { deskFields } from "./desk-fields.js";
import * as queue from "./desk-queue.js";
import { watchLive } from "./desk-live.js";
import * as deskRun from "./desk-run.js";
import { stateNotices } from "./desk-says.js";
import { openShell } from "./desk-start.js";
import { store } from "./desk-store.js";
import { put } from "./elements.js";
import { outbox } from "./outbox.js";
import { readNumber } from "./typed.js";

const root = document.querySelector("[data-desk]");
const TWICE_MS = 400;
const STATES = ["signed-out", "other", "skew", "lasting"];
const button = root.querySelector("[data-state]");
let sheet;
let fields;
let notice;
let key;
let run;
let view;
let entries = [];
let correcting = null;
let wasEnded = false;
let sawFinish = false;
const part = (name) => sheet.querySelector(`[data-${name}]`);
const clockOf = (ms) => deskRun.clock(ms - view.startMs);

const redraw = async () => {
  run = (await store.run(key)) || run;
  entries = await store.entries();
  view = deskRun.project(run, entries, outbox.atOf);
  const own = entries.filter((one) => one.run === run.run || one.run === run.uuid || one.id === run.uuid);
  face.drawNow(sheet, view);
  face.drawRows(part("rows"), view, correct);
  face.drawPresses(sheet, view, correcting);
  face.drawSummary(sheet, view, own.length > 0 || !wasEnded);
  for (const field of fields.all) field.show(view.last[field.name], view.last[field.name] && clockOf(view.last[field.name].ms));
  queue.drawState(button, entries);
  queue.drawTrouble(part("trouble"), entries, view, correct);
  queue.drawPanel(part("queue"), entries);
  const states = Object.entries(stateNotices(own.length > 0));
  for (const [name, said] of states) notice(name, said);
  awake(view.endMs === null);
  tick();
  goOn(own);
};
const tick = () => {
  if (!view) return;
  const shown = face.drawClock(sheet, view, outbox.now());
  const words = part("log-words");
  put(words, words.dataset.says === "Log" ? `Log at ${shown}` : words.dataset.says);
};
/* Once the end is kept, the server's own summary; once it is taken back, the desk again. */
const goOn = (own) => {
  const ended = view.endMs !== null;
  if (ended && own.length) sawFinish = true;
  if (own.length || outbox.status.offline || correcting) return;
  if (ended && !wasEnded && sawFinish && run.number) {
    wasEnded = true;
    location.replace(`/bench/runs/${run.number}/desk/`);
  }
  if (!ended && wasEnded) {
    wasEnded = false;
    location.reload();
  }
};

const runKey = () => (run.uuid && entries.some((one) => one.id === run.uuid) ? run.uuid : run.run);
const press = (kind, said, more = {}) =>
  outbox.entry(runKey(), "event", { kind, ...said }, { cook: outbox.status.cook || run.cook || "", ...more });
const keep = async (...made) => {
  try {
    await outbox.add(...made);
  } catch (error) {
    const words = `This phone could not keep it (${error.name || error}). Free some space, then press again;`;
    notice("full", { tone: "bad", words: `${words} your figures are still here.` });
    return false;
  }
  for (const name of ["full", "say", "back"]) notice(name, null);
  if (navigator.vibrate) navigator.vibrate(30);
  return true;
};
/* The figures that stand in the fields go along with any press: a reading at a stage's mark makes its split certain. */
const typed = (at, needed) => {
  const taken = fields.take();
  if (taken.bad) return null;
  if (taken.empty) {
    if (needed) notice("say", { words: "Type at least one figure: the counter, the watts or the charge. Then log it." });
    return needed ? null : [];
  }
  const before = view.last.energy_wh;
  const fell = before && Number.isFinite(taken.values.energy_wh) && taken.values.energy_wh < before.value;
  const made = press("reading", taken.values, at);
  if (fell) askReset(made, before.value);
  else notice("reset", null);
  return [made];
};
const askReset = (made, beforeWh) => {
  const fall = `from ${deskRun.number(beforeWh)} to ${deskRun.number(made.said.energy_wh)} Wh`;
  notice("reset", null);
  notice("reset", {
    words: `The counter falls here, ${fall}. It is logged as you typed it.`,
    acts: [
      [
        "It was reset",
        () => {
          notice("reset", null);
          keep(
            press(
              "reading",
              { ...made.said, note: "the counter was reset here", replaces: made.id },
              { atFixed: new Date(outbox.atOf(made)).toISOString() },
            ),
          );
        },
      ],
      [
        "Correct it",
        () => {
          notice("reset", null);
          const found = view.presses.find((one) => one.id === made.id);
          if (found) correct(found);
        },
      ],
    ],
  });
};
const withFigures = async (at, ...more) => {
  const readings = typed(at, false);
  if (readings === null) return;
  await keepFigures(readings, more);
};
/* The fields are free for the next figures at once; what could not be kept comes back into them. */
const keepFigures = async (readings, more = []) => {
  fields.clear();
  if ((await keep(...readings, ...more)) || !readings.length || !fields.isEmpty) return;
  for (const field of fields.all) field.set(readings[0].said[field.name]);
};

const acts = {
  async reading(at) {
    if (correcting) {
      keepCorrection();
      return;
    }
    const made = typed(at, true);
    if (made) await keepFigures(made);
  },
  following(at) {
    const next = view.following;
    return next ? withFigures(at, press("stage", { stage: next.kind }, at)) : acts.finish(at);
  },
  async stage(at) {
    const label = sheet.querySelector("[name=label]");
    const given = label.value.trim();
    await withFigures(
      at,
      press("stage", { stage: sheet.querySelector("[name=stage]").value, ...(given ? { label: given } : {}) }, at),
    );
    label.value = "";
    part("more-presses").open = false;
  },
  pause: (at) => withFigures(at, press(view.pausedMs === null ? "pause" : "resume", {}, at)),
  finish: (at) => withFigures(at, press("finish", {}, at)),
  async moment(at) {
    const text = sheet.querySelector("[name=text]");
    const photo = sheet.querySelector("[name=photo]");
    const file = photo.files[0];
    if (!text.value.trim() && !file) {
      notice("say", { words: "Write a few words, or choose a photo, then save it." });
      return;
    }
    const picture =
      file && outbox.entry(runKey(), "photo", {}, { ...at, blob: file, cook: outbox.status.cook || run.cook || "" });
    const said = { ...(text.value.trim() ? { text: text.value.trim() } : {}), ...(picture ? { photo: picture.id } : {}) };
    if (!(await keep(...(picture ? [picture] : []), press("moment", said, at)))) return;
    text.value = photo.value = "";
    part("more-presses").open = false;
  },
  async undo() {
    if (correcting) {
      leaveCorrection();
      return;
    }
    if (view.undo) await takeBack(view.undo);
  },
  async "take-back"() {
    const was = correcting;
    leaveCorrection();
    if (was) await takeBack(was);
  },
};
const takeBack = async (was) => {
  await outbox.takeBack(runKey(), was.id, run.cook);
  notice("reset", null);
  notice("back", null);
  notice("back", {
    words: `Taken back: ${deskRun.words(was)}, at ${clockOf(was.ms)}.`,
    acts: [
      [
        "Put it back",
        () => {
          notice("back", null);
          keep(press(was.kind, was.said, { atFixed: new Date(was.ms).toISOString() }));
        },
      ],
    ],
  });
  setTimeout(() => notice("back", null), 20_000);
};

/* A press that is corrected, or an entry that the server did not take. */
const correct = (which) => {
  const isEntry = which.op !== undefined;
  const { said } = which;
  correcting = {
    id: which.id,
    kind: isEntry ? said.kind : which.kind,
    said,
    ms: isEntry ? outbox.atOf(which) : which.ms,
    refused: isEntry || which.mark === "trouble" ? entries.find((one) => one.id === which.id) : null,
  };
  for (const name of ["reading", "undo"]) delete last[name];
  for (const field of fields.all) field.set(said[field.name]);
  sheet.querySelector("[name=minute]").value = String(Math.round((correcting.ms - view.startMs) / 60) / 1000);
  if (correcting.kind === "stage") {
    sheet.querySelector("[name=stage]").value = said.stage;
    sheet.querySelector("[name=label]").value = said.label || "";
  }
  if (correcting.kind === "moment") sheet.querySelector("[name=text]").value = said.text || "";
  put(part("correcting-words"), `${deskRun.words(correcting)}, logged at ${clockOf(correcting.ms)}`);
  redraw().then(() => {
    part("correcting").scrollIntoView({ block: "start" });
    const first = correcting && correcting.kind === "reading" ? fields.all[0].input : sheet.querySelector("[name=minute]");
    first.focus({ preventScroll: true });
  });
};
const leaveCorrection = () => {
  correcting = null;
  fields.clear();
  for (const name of ["minute", "label", "text"]) sheet.querySelector(`[name=${name}]`).value = "";
  part("more-presses").open = false;
  notice("say", null);
  redraw();
};
const corrected = () => {
  if (correcting.kind === "reading") {
    const taken = fields.take();
    if (taken.bad) return null;
    if (taken.empty) {
      notice("say", { words: "A reading needs at least one figure. To be rid of it, choose “Take it back”." });
      return null;
    }
    return { ...taken.values, ...(correcting.said.note ? { note: correcting.said.note } : {}) };
  }
  const label = sheet.querySelector("[name=label]").value.trim();
  const text = sheet.querySelector("[name=text]").value.trim();
  if (correcting.kind === "stage") return { stage: sheet.querySelector("[name=stage]").value, ...(label ? { label } : {}) };
  return { ...(text ? { text } : {}), ...(correcting.said.photo ? { photo: correcting.said.photo } : {}) };
};
const keepCorrection = async () => {
  const said = corrected();
  const minute = readNumber(sheet.querySelector("[name=minute]").value);
  if (!said) return;
  if (minute.error || minute.value === null || minute.value < 0) {
    notice("say", { words: "At which minute since the start? Type digits, like 12 or 12.5." });
    return;
  }
  const moved = Math.abs(view.startMs + minute.value * 60_000 - correcting.ms) > 60;
  const ms = moved ? view.startMs + minute.value * 60_000 : correcting.ms;
  const taken = correcting.refused && correcting.refused.reason && correcting.refused.reason.status === 409;
  const made = press(
    correcting.kind,
    { ...said, ...(taken ? {} : { replaces: correcting.id }) },
    { atFixed: new Date(ms).toISOString() },
  );
  if (!(await keep(made))) return;
  if (correcting.refused) await store.dropEntry(correcting.refused.id);
  leaveCorrection();
};

/* One press for two within 400 ms; the moment is that of the finger or the key coming down. */
const last = {};
let down = { name: "", ms: 0 };
const act = (name, ms) => {
  const typedAnew = !correcting && !fields.isEmpty;
  if (!acts[name] || (last[name] && ms - last[name] < TWICE_MS && !typedAnew)) return;
  last[name] = ms;
  Promise.resolve(acts[name]({ phoneMs: ms })).catch((error) =>
    notice("full", { tone: "bad", words: `That did not work (${error.message || error}). Press it again.` }),
  );
};
/* Single letters press buttons only while nobody types, and only where they are wanted on this device (WCAG 2.1.4). */
const keysOn = () => localStorage.getItem("desk-keys") !== "off";
const offerKeys = () => {
  const box = sheet.querySelector("[data-keys-on]");
  sheet.querySelector("[data-keys]").hidden = false;
  box.checked = keysOn();
  box.addEventListener("change", () => localStorage.setItem("desk-keys", box.checked ? "on" : "off"));
};
const listen = () => {
  offerKeys();
  sheet.addEventListener("pointerdown", (event) => {
    const pressed = event.target.closest("[data-press]");
    if (pressed) down = { name: pressed.dataset.press, ms: Date.now() };
  });
  sheet.addEventListener("click", (event) => {
    const pressed = event.target.closest("button[data-press]");
    if (!pressed) return;
    event.preventDefault();
    const name = pressed.dataset.press;
    const fresh = down.name === name && Date.now() - down.ms < 5_000;
    act(name, fresh ? down.ms : Date.now());
    down = { name: "", ms: 0 };
  });
  sheet.addEventListener("submit", (event) => {
    event.preventDefault();
    if (event.submitter && event.submitter.dataset.press) return;
    const inside = document.activeElement && document.activeElement.closest("[data-part]");
    act(correcting ? "reading" : inside && acts[inside.dataset.part] ? inside.dataset.part : "reading", Date.now());
  });
  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.repeat) return;
    const at = event.target;
    if (event.key === "Escape") {
      if (correcting) leaveCorrection();
      else at.blur();
      return;
    }
    const typing = at.closest && at.closest("textarea, select, input, summary");
    if (typing || correcting || !keysOn()) return;
    const place = "123".indexOf(event.key);
    const named = { l: "reading", n: "following", u: "undo", p: "pause", f: "finish" }[event.key.toLowerCase()];
    if (named && (view.endMs === null || named === "undo")) {
      event.preventDefault();
      act(named, Date.now());
    } else if (place >= 0) {
      event.preventDefault();
      fields.all[place].input.focus();
    }
  });
  if (button)
    button.addEventListener("click", () => {
      const panel = part("queue");
      const trouble = part("trouble");
      panel.hidden = !panel.hidden && trouble.hidden;
      if (!trouble.hidden) {
        trouble.scrollIntoView({ block: "center" });
        return;
      }
      if (!panel.hidden) panel.scrollIntoView({ block: "center" });
      outbox.flush(true);
    });
  setInterval(tick, 250);
  document.addEventListener("visibilitychange", tick);
};
const openRun = async (found) => {
  key = found.run;
  run = found;
  fields = deskFields(sheet, () => notice("say", null));
  const lasting = face.notices(part("notices"));
  const passing = face.notices(part("said"));
  notice = (name, said) => (STATES.includes(name) ? lasting : passing)(name, said);
  fields.named("energy_wh").setStep(run.step_wh);
  fields.named("charge_pct").setStep(run.step_pct);
  if (!run.has_charge) {
    const field = fields.named("charge_pct");
    field.box.hidden = !run.presses.some((press) => press.kind === "reading" && Number.isFinite(press.said.charge_pct));
  }
  outbox.listen(() => redraw());
  await redraw();
  listen();
  const address = () => `/api/v1/runs/${run.number || run.run}/live`;
  if (run.live) watchLive(sheet, fields, address, () => view.endMs !== null);
  outbox.begin();
};
const embedded = async () => {
  sheet = root.querySelector("[data-sheet]");
  const said = JSON.parse(document.getElementById("desk-state").textContent);
  const before = await store.run(said.run).catch(() => null);
  const newest = before && Date.parse(before.now) > Date.parse(said.now) ? before : said;
  wasEnded = Boolean(newest.ended_at) || newest.presses.some((press) => press.kind === "finish");
  await store.putRun({ ...newest, number: Number(said.run) }).catch(() => {
    store.lasting = false;
  });
  await openRun({ ...newest, number: Number(said.run) });
};
const openSheet = async (found) => {
  sheet = root.querySelector("[data-sheet-template]").content.firstElementChild.cloneNode(true);
  root.querySelector("main").append(sheet);
  put(root.querySelector("[data-title]"), found.recipe.title);
  document.title = `Cooking desk: ${found.recipe.title}`;
  await openRun(found);
};
if ("shell" in root.dataset) openShell(root, openSheet);
else embedded();
