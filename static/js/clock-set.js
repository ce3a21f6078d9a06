/* Whether this phone's clock was set while presses waited. Sleeping looks the same from within, so the server's time decides. */
import { store } from "./desk-store.js";

const LOOK_MS = 1_000;
const SET_MS = 5_000;
const before = new Map();
let wall = Date.now();
let steady = performance.now();
let allMs = 0;

const waits = (row) => !row.body && !row.atFixed && !row.moved;
/* Between clock and running time of this page; another one follows each setting, and each page has its own. */
const apartMs = () => Date.now() - performance.now();
const isFromBefore = (row) => !(Math.abs(row.apartMs - apartMs()) < SET_MS / 2);

/* Note by how much the clock went apart from the time that passed, and for which presses. */
const look = async () => {
  const ranMs = performance.now() - steady;
  const setMs = Date.now() - wall - ranMs;
  wall = Date.now();
  steady += ranMs;
  if (Math.abs(setMs) < SET_MS) return;
  allMs += setMs;
  for (const row of (await store.entries()).filter(waits).filter(isFromBefore))
    before.set(row.id, (before.get(row.id) || 0) + setMs);
};

/* Presses wait that may be older than a setting of the clock. */
const isOpen = async () => {
  await look();
  return before.size > 0;
};

/* The server's time showed by how much the clock was set: the presses made before are told in the clock as it goes now. */
const settle = async (differsMs) => {
  if (Math.abs(differsMs - allMs) < SET_MS)
    for (const [id, ms] of before)
      await store.changeEntry(id, (row) =>
        waits(row) ? { ...row, phoneMs: row.phoneMs + ms, made: row.made + ms, moved: true } : null,
      );
  before.clear();
  allMs = 0;
};

export const clockSet = {
  apartMs,
  isOpen,
  settle,
  watch: () => setInterval(look, LOOK_MS),
};
