/* What follows from a run's presses: the stage, what comes next, pauses, the end, what the displays showed last. Pure. */
(() => {
  const wf = (self.wattfare = self.wattfare || {});
  const UNITS = { energy_wh: "Wh", power_w: "W", charge_pct: "%" };
  const FIGURES = Object.keys(UNITS);
  const DOUBLE_TAP_MS = 10_000;
  const KINDS = { preheat: "preheat", brown: "brown", come_up: "come up", hold: "hold", bake: "bake", reduce: "reduce", keep_warm: "keep warm", release: "release", rest: "rest" };

  const clock = (ms) => {
    const whole = Math.max(0, Math.floor(ms / 1000)), hours = Math.floor(whole / 3600);
    const two = (part) => String(part).padStart(2, "0");
    const minutes = Math.floor(whole / 60) % 60;
    return hours ? `${hours}:${two(minutes)}:${two(whole % 60)}` : `${two(minutes)}:${two(whole % 60)}`;
  };
  const number = (value) => (Number.isInteger(value) ? value.toLocaleString("en-GB") : String(Number(value.toPrecision(10))));
  const stageName = (said) => said.label || KINDS[said.stage] || said.stage || "";
  const words = (press) => {
    const { kind, said } = press;
    if (kind === "reading") {
      const shown = FIGURES.filter((name) => Number.isFinite(said[name])).map((name) => `${number(said[name])}\u00a0${UNITS[name]}`);
      return [...shown, ...(said.note ? [said.note] : [])].join(", ");
    }
    if (kind === "stage") return `${stageName(said)} begins`;
    if (kind === "moment") return said.text || "a photo";
    return { pause: "paused", resume: "went on", finish: "finished" }[kind] || kind;
  };

  /* The presses that stand: those that the server holds, and on top of them those that wait on this phone. */
  const standing = (run, entries, atOf) => {
    const own = entries.filter((one) => one.kind === "event" && (one.run === run.run || one.run === run.uuid));
    const taps = (one, other) => other && one.said.stage === other.said.stage && (one.said.label || "") === (other.said.label || "") && one.ms - other.ms < DOUBLE_TAP_MS;
    const presses = new Map(run.presses.map((press, place) => [press.id || `typed ${place}`, { ...press, ms: Date.parse(press.at), mark: "kept" }]));
    for (const entry of own) {
      if (entry.op === "DELETE") { presses.delete(entry.id); continue; }
      const { kind, replaces, ...said } = entry.said;
      if (replaces) presses.delete(replaces);
      presses.set(entry.id, { id: entry.id, kind, said, ms: atOf(entry), mark: entry.state, made: entry.made, place: entry.place });
    }
    for (const entry of own) if (entry.op === "PUT" && entry.said.replaces) presses.delete(entry.said.replaces);
    const ordered = [...presses.values()].sort((one, other) => one.ms - other.ms || (one.place || 0) - (other.place || 0));
    let last = null;
    return ordered.filter((press) => {
      if (press.kind !== "stage") return true;
      const twice = taps(press, last);
      if (!twice) last = press;
      return !twice;
    });
  };

  const project = (run, entries, atOf) => {
    const presses = standing(run, entries, atOf), begun = presses.filter((press) => press.kind === "stage");
    const current = begun[begun.length - 1] || null, method = run.stages || [];
    const planned = current && method[begun.length - 1] && method[begun.length - 1].kind === current.said.stage ? method[begun.length - 1] : null;
    const last = {};
    let pausedMs = null, endMs = run.ended_at ? Date.parse(run.ended_at) : null;
    for (const press of presses) {
      if (press.kind === "reading" && press.mark !== "trouble") for (const name of FIGURES) if (Number.isFinite(press.said[name])) last[name] = { value: press.said[name], ms: press.ms };
      if (press.kind === "pause" && pausedMs === null) pausedMs = press.ms;
      if (press.kind === "resume") pausedMs = null;
      if (press.kind === "finish") endMs = press.ms;
    }
    const named = presses.filter((press) => press.id && !press.id.startsWith("typed"));
    const newest = [...named].sort((one, other) => (one.made || one.ms) - (other.made || other.ms) || (one.place || 0) - (other.place || 0)).pop();
    return {
      presses, current, planned, last, pausedMs, endMs, startMs: Date.parse(run.started_at), stageCount: begun.length,
      stageTotal: Math.max(begun.length, method.length), following: method[begun.length] || null, undo: newest || null,
      waiting: presses.filter((press) => press.mark === "waiting").length,
    };
  };

  /* What the phone itself can say of a finished cook: minutes, and the counter's positive steps (a fall begins a new count). */
  const summary = (view) => {
    const counter = view.presses.filter((press) => press.kind === "reading" && Number.isFinite(press.said.energy_wh)).map((press) => press.said.energy_wh);
    let energyWh = null;
    for (let place = 1; place < counter.length; place += 1) energyWh = (energyWh || 0) + (counter[place] >= counter[place - 1] ? counter[place] - counter[place - 1] : counter[place]);
    const watts = view.presses.map((press) => press.said.power_w).filter(Number.isFinite);
    return { energyWh, peakW: watts.length ? Math.max(...watts) : null, spanMs: view.endMs - view.startMs, readings: counter.length };
  };
  wf.deskRun = { UNITS, FIGURES, KINDS, clock, number, words, stageName, project, summary };
})();
