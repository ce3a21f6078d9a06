/* What follows from a run's presses: the stage, what comes next, pauses, the end, what the displays showed last. Pure. */
const UNITS = { energy_wh: "Wh", power_w: "W", charge_pct: "%" };
export const FIGURES = Object.keys(UNITS);
const DOUBLE_TAP_MS = 10_000;
const KINDS = {
  preheat: "preheat",
  brown: "brown",
  come_up: "come up",
  hold: "hold",
  bake: "bake",
  reduce: "reduce",
  keep_warm: "keep warm",
  release: "release",
  rest: "rest",
};

export const clock = (ms) => {
  const whole = Math.max(0, Math.floor(ms / 1000));
  const hours = Math.floor(whole / 3600);
  const two = (part) => String(part).padStart(2, "0");
  const minutes = Math.floor(whole / 60) % 60;
  return hours ? `${hours}:${two(minutes)}:${two(whole % 60)}` : `${two(minutes)}:${two(whole % 60)}`;
};
export const number = (value) =>
  Number.isInteger(value) ? value.toLocaleString("en-GB") : String(Number(value.toPrecision(10)));
export const stageName = (said) => said.label || KINDS[said.stage] || said.stage || "";
export const words = (press) => {
  const { kind, said } = press;
  if (kind === "reading") {
    const shown = FIGURES.filter((name) => Number.isFinite(said[name])).map(
      (name) => `${number(said[name])}\u00a0${UNITS[name]}`,
    );
    return [...shown, ...(said.note ? [said.note] : [])].join(", ");
  }
  if (kind === "stage") return `${stageName(said)} begins`;
  if (kind === "moment") return said.text || "a photo";
  return { pause: "paused", resume: "went on", finish: "finished" }[kind] || kind;
};

/* The server keeps microseconds: two presses within one millisecond have an order, too. */
const instant = (at) => Date.parse(at) + Number(`0.${(/\.\d{3}(\d+)/.exec(at) || ["", "0"])[1]}`);
const inOrder = (one, other) => one.ms - other.ms || (one.id < other.id ? -1 : Number(one.id > other.id));
const labelOf = (press) => press.said.label || "";
const isSameTap = (last, press) =>
  last &&
  last.said.stage === press.said.stage &&
  labelOf(last) === labelOf(press) &&
  press.ms - last.ms < DOUBLE_TAP_MS;

/* The presses that stand, by moment and name: those that the server holds, and on top of them those that wait on this phone.
   What was taken back or replaced stays so, in whatever order it came. */
const standing = (run, entries, atOf) => {
  const own = entries.filter((one) => one.kind === "event" && (one.run === run.run || one.run === run.uuid));
  const gone = new Set(own.map((one) => (one.op === "DELETE" ? one.id : one.said.replaces)).filter(Boolean));
  const waiting = own.filter((one) => one.op === "PUT").map((entry) => {
    const { kind, replaces, ...said } = entry.said;
    return { id: entry.id, kind, said, ms: atOf(entry), mark: entry.state, made: entry.made, place: entry.place };
  });
  const names = new Set(waiting.map((press) => press.id));
  const held = run.presses.filter((press) => !names.has(press.id));
  const kept = held.map((press) => ({ ...press, ms: instant(press.at), mark: "kept" }));
  let last = null;
  return [...kept, ...waiting].filter((press) => !gone.has(press.id)).sort(inOrder).filter((press) => {
    if (press.kind !== "stage") return true;
    const twice = isSameTap(last, press);
    if (!twice) last = press;
    return !twice;
  });
};
/* From when to when it was paused, within the run; null where it is paused still. */
const pausesOf = (presses, endMs) => {
  const pauses = [];
  let began = null;
  for (const { kind, ms } of presses) {
    if (kind === "pause" && began === null) began = ms;
    if (kind !== "resume" || began === null) continue;
    pauses.push([began, ms]);
    began = null;
  }
  if (began !== null) pauses.push([began, endMs]);
  if (endMs === null) return pauses;
  return pauses.filter(([from]) => from < endMs).map(([from, until]) => [from, Math.min(until, endMs)]);
};
const lastShown = (presses) => {
  const last = {};
  for (const { kind, mark, said, ms } of presses) {
    if (kind !== "reading" || mark === "trouble") continue;
    for (const name of FIGURES) if (Number.isFinite(said[name])) last[name] = { value: said[name], ms };
  }
  return last;
};
/* The press that was made last, whatever its moment: undo takes that one back. */
const newestOf = (presses) => {
  const born = (press) => press.made || press.ms;
  return presses.filter((press) => press.id)
    .sort((one, other) => born(one) - born(other) || (one.place || 0) - (other.place || 0)).pop() || null;
};

/* What follows from the presses that stand, by the server's rules (energy/runs/domain/desk.py). */
export const project = (run, entries, atOf) => {
  const presses = standing(run, entries, atOf);
  const begun = presses.filter((press) => press.kind === "stage");
  const current = begun[begun.length - 1] || null, method = run.stages || [], there = method[begun.length - 1];
  const finish = presses.filter((press) => press.kind === "finish").pop(), finishMs = finish ? finish.ms : null;
  const ends = [finishMs, run.ended_at ? instant(run.ended_at) : null].filter((ms) => ms !== null);
  const pauses = pausesOf(presses, finishMs), open = pauses.find(([, until]) => until === null);
  return {
    presses, current, pauses, planned: current && there && there.kind === current.said.stage ? there : null,
    last: lastShown(presses), pausedMs: open ? open[0] : null,
    endMs: ends.length ? Math.max(...ends) : null, startMs: instant(run.started_at),
    stageCount: begun.length, stageTotal: Math.max(begun.length, method.length), following: method[begun.length] || null,
    undo: newestOf(presses), waiting: presses.filter((press) => press.mark === "waiting").length,
  };
};

/* What the phone itself can say of a finished cook: minutes, and the counter's positive steps (a fall begins a new count). */
export const summary = (view) => {
  const counter = view.presses
    .filter((press) => press.kind === "reading" && Number.isFinite(press.said.energy_wh))
    .map((press) => press.said.energy_wh);
  let energyWh = null;
  for (let place = 1; place < counter.length; place += 1)
    energyWh = (energyWh || 0) + (counter[place] >= counter[place - 1] ? counter[place] - counter[place - 1] : counter[place]);
  const watts = view.presses.map((press) => press.said.power_w).filter(Number.isFinite);
  return {
    energyWh,
    peakW: watts.length ? Math.max(...watts) : null,
    spanMs: view.endMs - view.startMs,
    readings: counter.length,
  };
};
