/* Draws the desk: what a person sees follows from the view; nothing jumps when a number changes. */
import { clock, number, stageName, summary, words } from "./desk-run.js";
import { hide, make, put } from "./elements.js";

const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/* Notices by name: one that says the same stays where it is, so that nobody hears it twice. */
export const notices = (box) => {
  const shown = new Map();
  return (name, said) => {
    const old = shown.get(name);
    if (!said) {
      if (old) {
        old.node.remove();
        shown.delete(name);
      }
      return;
    }
    if (old && old.words === said.words) return;
    if (old) old.node.remove();
    const acts = (said.acts || []).map(([label, act]) =>
      typeof act === "string"
        ? make("a", { class: "desk-press desk-press--small", href: act, text: label })
        : make("button", { class: "desk-press desk-press--small", type: "button", text: label, onclick: act }),
    );
    const node = make("div", { class: `notice notice--${said.tone || "warn"}`, role: "status" }, make("p", { text: said.words }));
    if (acts.length) node.append(make("div", { class: "queue__acts" }, ...acts));
    box.append(node);
    shown.set(name, { node, words: said.words });
  };
};

const stepNodes = (told) => {
  const all = told.map((text) => make("p", { dir: "auto", text }));
  if (told.length < 2 || told.join("").length <= 170) return all;
  const first = make(
    "span",
    { dir: "auto", text: `${told[0]} ` },
    make("span", { class: "note", text: `and ${told.length - 1} more` }),
  );
  return [make("details", {}, make("summary", {}, first), ...all.slice(1))];
};
export const drawNow = (sheet, view) => {
  const part = (name) => sheet.querySelector(`[data-${name}]`);
  const box = part("now");
  const ended = view.endMs !== null;
  const paused = !ended && view.pausedMs !== null;
  box.classList.toggle("now--paused", paused);
  box.classList.toggle("now--ended", ended);
  put(part("stage"), ended ? "Finished" : view.current ? capital(stageName(view.current.said)) : "Cooking");
  const steps = part("steps");
  const told = (!ended && view.planned && view.planned.steps) || [];
  if (steps.dataset.told !== told.join("\n")) {
    steps.dataset.told = told.join("\n");
    steps.replaceChildren(...stepNodes(told));
  }
  hide(steps, !told.length);
};
export const drawClock = (sheet, view, nowMs) => {
  const part = (name) => sheet.querySelector(`[data-${name}]`);
  const ended = view.endMs !== null;
  const face = clock((ended ? view.endMs : nowMs) - view.startMs);
  put(part("clock"), face);
  part("clock").classList.toggle("now__clock--long", face.length > 5);
  const about = view.planned && view.planned.minutes ? ` of about ${view.planned.minutes} min` : "";
  const where = view.current
    ? `stage ${view.stageCount} of ${view.stageTotal}, ${clock(nowMs - view.current.ms)}${about}`
    : "no stage yet";
  put(
    part("place"),
    ended
      ? view.current
        ? `last stage: ${stageName(view.current.said)}`
        : ""
      : view.pausedMs === null
        ? where
        : `paused since ${clock(view.pausedMs - view.startMs)}`,
  );
  put(part("next"), !ended && view.following ? `next: ${view.following.label}` : "");
  return face;
};
export const drawRows = (list, view, correct) => {
  const told = view.presses.map((press) => `${press.id}|${press.ms}|${press.mark}|${words(press)}`).join("\n") + view.endMs;
  if (list.dataset.told === told) return;
  list.dataset.told = told;
  if (!view.presses.length) {
    list.replaceChildren(
      make("li", {
        class: "desk-row desk-row--none",
        text: "Nothing logged yet. Log what the displays show now: two readings make a figure.",
      }),
    );
    return;
  }
  list.replaceChildren(
    ...[...view.presses].reverse().map((press) => {
      const mine = !press.id.startsWith("typed") && ["reading", "stage", "moment"].includes(press.kind) && press.id;
      const said = words(press);
      const given = { class: "desk-row__words", dir: "auto", text: said };
      const body = mine
        ? make("button", { ...given, type: "button", "aria-label": `Correct ${said}`, onclick: () => correct(press) })
        : make("span", given);
      const mark = { kept: "saved", waiting: "waiting", trouble: "look here" }[press.mark];
      return make(
        "li",
        { class: `desk-row desk-row--${press.kind}` },
        make("span", { class: "desk-row__clock", text: clock(press.ms - view.startMs) }),
        body,
        make("span", { class: `desk-row__mark desk-row__mark--${press.mark}`, text: mark }),
      );
    }),
  );
};
export const drawPresses = (sheet, view, correcting, busy) => {
  const part = (name) => sheet.querySelector(`[data-${name}]`);
  const press = (name) => sheet.querySelector(`.dock [data-press="${name}"]`);
  const ended = view.endMs !== null;
  const kind = correcting && correcting.kind;
  hide(part("figures"), correcting ? kind !== "reading" : ended);
  hide(part("more-presses"), correcting ? kind === "reading" : ended);
  hide(part("correcting"), !correcting);
  for (const name of ["end", "moment", "stage"])
    hide(sheet.querySelector(`[data-part="${name}"]`), Boolean(correcting) && kind !== name);
  for (const name of ["moment", "stage"]) hide(sheet.querySelector(`[data-part="${name}"] [data-press]`), Boolean(correcting));
  if (correcting && kind !== "reading") part("more-presses").open = true;
  hide(press("reading"), ended && !correcting);
  hide(press("following"), ended || Boolean(correcting));
  hide(part("to-run"), !ended || Boolean(correcting));
  put(part("undo-words"), correcting ? "Leave it as it was" : "Undo");
  press("undo").disabled = !correcting && !view.undo;
  put(part("next-words"), view.following ? `Next stage: ${view.following.label}` : "Finish");
  put(part("pause-words"), view.pausedMs === null ? "Pause" : "Go on");
  part("log-words").dataset.says = correcting ? "Save the correction" : busy ? "" : "Log";
};
export const drawSummary = (sheet, view, waiting) => {
  const box = sheet.querySelector("[data-finished]");
  hide(box, view.endMs === null);
  if (view.endMs === null || !waiting) return;
  const told = summary(view);
  const tile = (value, said, tone) =>
    make("li", { class: `figure figure--${tone}` }, make("b", { text: value }), make("span", { text: said }));
  const tiles = [
    tile(
      told.energyWh === null ? "–" : `${number(told.energyWh)}\u00a0Wh`,
      told.energyWh === null ? "two counter readings are needed" : "by the counter",
      "energy",
    ),
    tile(
      told.spanMs < 59_500 ? `${Math.round(told.spanMs / 1000)}\u00a0s` : `${Math.round(told.spanMs / 60_000)}\u00a0min`,
      "from switching on",
      "plain",
    ),
  ];
  if (told.peakW !== null) tiles.splice(1, 0, tile(`${number(told.peakW)}\u00a0W`, "the highest that was logged", "energy"));
  box.replaceChildren(
    make("ul", { class: "figures" }, ...tiles),
    make("p", {
      class: "finished__waiting",
      text: "Waiting: worked out on this phone. The stages, the ± and the checks follow as soon as it is sent.",
    }),
  );
};
