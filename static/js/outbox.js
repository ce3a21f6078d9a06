/* The outbox: presses go out one by one, in the order they were made, from one tab at a time.
   What the server does not take stays. */
import { clockSet } from "./clock-set.js";
import { store, uuid } from "./desk-store.js";

const API = "/api/v1/";
const PATIENCE_MS = 20_000;
/* Clocks are told apart no finer than this. [s] */
const CLOCK_S = 0.25;
const FIRST_WAIT_MS = 2_000;
const LONGEST_WAIT_MS = 60_000;
const listeners = new Set();
export const outbox = {
  status: {
    offline: !navigator.onLine,
    signedOut: false,
    cook: undefined,
    otherCook: "",
    skewS: 0,
    sending: false,
    lost: "",
    full: "",
  },
};
const { status } = outbox;
let csrf = "";
let askedAt = 0;
let waitMs = 0;
let timer = 0;
let place = 0;
let again = false;

const channel = "BroadcastChannel" in self ? new BroadcastChannel("wattfare") : null;
const tell = (others = true) => {
  for (const listener of listeners) listener();
  if (others && channel) channel.postMessage("changed");
};
outbox.listen = (listener) => listeners.add(listener);
outbox.tell = tell;
if (channel)
  channel.onmessage = () => {
    tell(false);
    if (!status.sending) later(1_000 + Math.random() * 1_000);
  };

/* The server's clock, as far as this phone knows it. */
outbox.now = () => Date.now() - outbox.skewMs();
outbox.skewMs = () => (Math.abs(status.skewS) > 1 ? status.skewS * 1000 : 0);
outbox.atOf = (entry) =>
  Date.parse(entry.body ? entry.body.at || entry.body.started_at : entry.atFixed || "") || entry.phoneMs - outbox.skewMs();
/* The server said its time at some moment since we asked: how far this clock is ahead lies between these two. What is known
   stands while it lies there, too, so that a slow answer moves no press before or behind its neighbour. */
const learnSkew = async (askedMs, now) => {
  const lowS = (askedMs - Date.parse(now)) / 1000;
  const highS = (Date.now() - Date.parse(now)) / 1000;
  const stands = status.skewS > lowS - CLOCK_S && status.skewS < highS + CLOCK_S;
  if (!Number.isFinite(lowS)) return;
  const movedS = stands ? 0 : (lowS + highS) / 2 - status.skewS;
  status.skewS += movedS;
  await clockSet.settle(movedS * 1000);
  if (movedS) store.setMeta("skewS", status.skewS).catch(() => {});
};

outbox.entry = (run, kind, said, more = {}) => ({
  id: uuid(),
  run,
  kind,
  op: "PUT",
  said,
  phoneMs: Date.now(),
  made: Date.now(),
  apartMs: clockSet.apartMs(),
  place: place++,
  tries: 0,
  state: "waiting",
  cook: status.cook || "",
  ...more,
});
/* Written first, then sent: resolves once the press is on this phone's disk. */
outbox.add = async (...entries) => {
  await store.addEntries(entries);
  tell();
  flush(true);
};
outbox.takeBack = async (run, id, cook) => {
  const waiting = (await store.entries()).find((one) => one.id === id);
  const back = {
    ...outbox.entry(run, "event", {}),
    id,
    op: "DELETE",
    cook: (waiting && waiting.cook) || cook || status.cook || "",
  };
  await store.addEntries([back]);
  tell();
  flush(true);
};

const timed = async (address, options = {}) => {
  const stop = new AbortController();
  const limit = setTimeout(() => stop.abort(), PATIENCE_MS);
  try {
    return await fetch(address, { credentials: "same-origin", cache: "no-store", ...options, signal: stop.signal });
  } finally {
    clearTimeout(limit);
  }
};
const spoken = async (response) => {
  try {
    return await response.json();
  } catch {
    return {};
  }
};
/* Who is signed in, a fresh secret for forms, and the server's clock. */
const askSession = async () => {
  const before = Date.now();
  const response = await timed(`${API}session`);
  if (!response.ok) throw new Error(`session ${response.status}`);
  const said = await spoken(response);
  await learnSkew(before, said.now);
  csrf = said.csrf || "";
  askedAt = Date.now();
  status.cook = said.cook || null;
  status.signedOut = !said.cook;
  const earlier = await store.meta("cook");
  if (earlier && status.cook && earlier !== status.cook) await store.forget();
  if (status.cook) await store.setMeta("cook", status.cook);
};
outbox.askSession = askSession;

/* From its first sending on a press never changes, so that the same name always says the same. */
const frozen = (entry) => {
  if (entry.body || entry.kind === "photo" || entry.op === "DELETE") return { ...entry, tries: entry.tries + 1 };
  const at = entry.atFixed || new Date(entry.phoneMs - outbox.skewMs()).toISOString();
  const body = entry.kind === "cook" ? { ...entry.said, started_at: at } : { ...entry.said, at };
  return { ...entry, body, tries: entry.tries + 1 };
};
const addressOf = (entry) => {
  if (entry.kind === "cook") return `${API}cooks/${entry.id}`;
  return `${API}runs/${entry.run}/${entry.kind === "photo" ? "photos" : "events"}/${entry.id}`;
};
const ask = (entry) => {
  const headers = { "X-CSRFToken": csrf };
  if (entry.op === "DELETE") return timed(addressOf(entry), { method: "DELETE", headers });
  if (entry.kind === "photo")
    return timed(addressOf(entry), {
      method: "PUT",
      headers: { ...headers, "Content-Type": entry.blob.type || "image/jpeg" },
      body: entry.blob,
    });
  headers["Content-Type"] = "application/json";
  return timed(addressOf(entry), {
    method: "PUT",
    headers,
    body: JSON.stringify({ ...entry.body, sent_at: new Date().toISOString() }),
  });
};

const enter = (entry, said) => (run) => {
  run.now = said.now || run.now;
  if (entry.kind === "cook") Object.assign(run, { number: said.run, desk: said.desk });
  if (entry.kind !== "event") return;
  const replaced = entry.body && entry.body.replaces;
  run.presses = run.presses.filter((press) => press.id !== entry.id && press.id !== replaced);
  if (entry.op === "PUT") {
    const { at, kind, replaces, ...rest } = entry.body;
    run.presses.push({ id: entry.id, kind, at, said: rest });
  }
};
/* Send one entry; returns "on" to go on with the next, "pass" to go on and come back to it, "stop" to wait. A disk that is nearly
   full takes no photos and still takes readings: a photo lets those behind it go first. */
const send = async (waiting) => {
  const entry = await store.changeEntry(waiting.id, frozen);
  if (!entry) return "on";
  let before = Date.now();
  let response = await ask(entry);
  if (response.status === 403) {
    await askSession();
    before = Date.now();
    if (!status.signedOut) response = await ask(entry);
  }
  const said = await spoken(response);
  await learnSkew(before, said.now);
  if (response.ok) {
    await store.settle(entry, enter(entry, said));
    waitMs = 0;
    tell();
    return "on";
  }
  if (response.status === 401) {
    status.signedOut = true;
    return "stop";
  }
  if (response.status === 507) {
    status.full = said.error || "The kitchen’s disk is full.";
    tell();
    return entry.kind === "photo" ? "pass" : "stop";
  }
  if (response.status === 403 || response.status === 429 || response.status >= 500) return "stop";
  const reason = {
    status: response.status,
    error: said.error || "",
    field: said.field || "",
    value: said.value,
    kept: said.kept,
  };
  await store.changeEntry(entry.id, (row) => (row.op === entry.op ? { ...row, state: "trouble", reason } : null));
  tell();
  return "on";
};

const isReady = (entry, entries) => {
  if (entry.state !== "waiting") return false;
  return entry.kind === "cook" || !entries.some((other) => other.kind === "cook" && other.id === entry.run);
};
const sendAll = async () => {
  if (await clockSet.isOpen()) await askSession();
  if (status.cook === undefined || status.signedOut || Date.now() - askedAt > 300_000 || status.otherCook) {
    const known = status.cook !== undefined && !status.signedOut;
    if (known && !(await store.entries()).some((one) => one.state === "waiting")) return true;
    await askSession();
  }
  const passed = new Set();
  status.full = "";
  for (;;) {
    if (status.signedOut) return false;
    const entries = await store.entries();
    status.otherCook = "";
    const mine = entries.filter((one) => !passed.has(one.id + one.op) && isReady(one, entries));
    const next = mine.find((one) => !one.cook || one.cook === status.cook);
    if (!next) {
      const foreign = mine.find((one) => one.cook && one.cook !== status.cook);
      status.otherCook = foreign ? foreign.cook : "";
      return !passed.size;
    }
    const went = await send(next);
    if (went === "stop") return false;
    if (went === "pass") passed.add(next.id + next.op);
  }
};

/* One tab sends. Where there are no locks (a plain address on the home network) a note with a date stands in for one. */
const alone = async (work) => {
  if (navigator.locks)
    return navigator.locks.request("wattfare-outbox", { ifAvailable: true }, (lock) => (lock ? work() : "busy"));
  const held = Number(localStorage.getItem("wattfare-outbox") || 0);
  if (held > Date.now() && held < Date.now() + PATIENCE_MS * 2) return "busy";
  const hold = () => localStorage.setItem("wattfare-outbox", String(Date.now() + PATIENCE_MS + 5_000));
  const beat = setInterval(hold, 5_000);
  hold();
  try {
    return await work();
  } finally {
    clearInterval(beat);
    localStorage.removeItem("wattfare-outbox");
  }
};
const later = (ms) => {
  clearTimeout(timer);
  timer = setTimeout(() => flush(), ms);
};

const flush = async (pressed = false) => {
  if (pressed) waitMs = 0;
  if (status.sending) {
    again = true;
    return;
  }
  clearTimeout(timer);
  status.sending = true;
  let done;
  try {
    done = await alone(sendAll);
    if (done !== "busy") status.offline = false;
  } catch (error) {
    done = false;
    status.offline = true;
    status.lost = String((error && error.message) || error);
  }
  status.sending = false;
  tell(false);
  if (again) {
    again = false;
    flush();
    return;
  }
  if (done === true) return;
  waitMs = done === "busy" ? 2_000 : Math.min(LONGEST_WAIT_MS, waitMs ? waitMs * 2 : FIRST_WAIT_MS);
  if (done === "busy" || !status.signedOut) later(waitMs);
};
outbox.flush = flush;

outbox.retry = (id) =>
  store
    .changeEntry(id, (row) => ({ ...row, state: "waiting", reason: null }))
    .then(() => {
      tell();
      return flush(true);
    });
/* The same words under a new name: what the server holds under the old one stays as it is. */
outbox.sendAsNew = async (id) => {
  const old = (await store.entries()).find((one) => one.id === id);
  if (!old) return;
  await store.addEntries([{ ...old, id: uuid(), state: "waiting", reason: null, tries: 0 }]);
  await store.dropEntry(id);
  tell();
  flush(true);
};
outbox.discard = (id) => store.dropEntry(id).then(() => tell());

outbox.begin = async () => {
  status.cook = undefined;
  status.skewS = Number(await store.meta("skewS").catch(() => 0)) || 0;
  clockSet.watch();
  self.addEventListener("online", () => {
    status.offline = false;
    tell(false);
    flush(true);
  });
  self.addEventListener("offline", () => {
    status.offline = true;
    tell(false);
  });
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden) flush(true);
  });
  self.addEventListener("pageshow", (event) => {
    if (event.persisted) {
      tell(false);
      flush(true);
    }
  });
  return flush(true);
};
