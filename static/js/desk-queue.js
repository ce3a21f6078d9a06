/* What waits and what needs attention: said at the head of the page, listed with what to do,
   saved to a file and read from one. */
import { clock, words as pressWords } from "./desk-run.js";
import { store } from "./desk-store.js";
import { hide, make, put } from "./elements.js";
import { outbox } from "./outbox.js";

const many = (count, word) => `${count} ${word}${count === 1 ? "" : word.endsWith("s") ? "es" : "s"}`;

const stateWords = (entries) => {
  const trouble = entries.filter((one) => one.state === "trouble").length;
  const waiting = entries.length - trouble;
  const { status } = outbox;
  if (trouble) return [`${trouble} need${trouble === 1 ? "s" : ""} attention`, true];
  if (waiting) return [`${waiting} waiting${status.signedOut ? ", signed out" : status.offline ? ", no signal" : ""}`, true];
  return status.offline ? ["no signal", true] : ["all saved", false];
};
export const drawState = (button, entries) => {
  if (!button) return;
  const [words, alarming] = stateWords(entries);
  const inside = button.querySelector("[data-state-words]");
  button.hidden = false;
  button.classList.toggle("desk-bar__state--wait", alarming);
  put(inside, words);
};

const say = (entry) => {
  if (entry.op === "DELETE") return "a press taken back";
  if (entry.kind === "cook") return "the start of the cook";
  if (entry.kind === "photo") return "a photo";
  return pressWords({ kind: entry.said.kind, said: entry.said }) || entry.said.kind;
};
const what = (entry) => {
  const { reason } = entry;
  const value = reason.value === undefined || reason.value === null ? "" : ` It said ${JSON.stringify(reason.value)}.`;
  const plain = {
    energy_wh: "The counter",
    power_w: "The watts",
    charge_pct: "The charge",
    at: "Its moment",
    started_at: "The start",
  }[reason.field];
  const why =
    (plain && reason.error.startsWith(`${reason.field} `) ? plain + reason.error.slice(reason.field.length) : reason.error) ||
    { 404: "There is no such cook here for who is signed in.", 413: "It is too long." }[reason.status] ||
    `The server answers ${reason.status}.`;
  return `${why}${value}`;
};
/* Discarding asks once more on the same button. */
const asking = (label, sure, act) => {
  const button = make("button", { class: "desk-press desk-press--small desk-press--danger", type: "button", text: label });
  let asked = 0;
  button.addEventListener("click", () => {
    if (asked && Date.now() - asked > 400) {
      act();
      return;
    }
    asked = Date.now();
    button.textContent = sure;
  });
  button.addEventListener("blur", () => {
    asked = 0;
    button.textContent = label;
  });
  return button;
};
export const drawTrouble = (box, entries, view, correct) => {
  const bad = entries.filter((one) => one.state === "trouble");
  const told = bad.map((one) => one.id + one.reason.error).join();
  hide(box, !bad.length);
  if (box.dataset.told === told) return;
  box.dataset.told = told;
  const act = (label, work) =>
    make("button", { class: "desk-press desk-press--small", type: "button", text: label, onclick: work });
  const one = (entry) => {
    const acts = [act("Try again", () => outbox.retry(entry.id))];
    if (entry.op === "PUT" && entry.kind === "event" && ["reading", "stage", "moment"].includes(entry.said.kind))
      acts.unshift(act("Correct it", () => correct(entry)));
    if (entry.op === "PUT" && entry.reason.status === 409)
      acts.push(act("Send it as a new one", () => outbox.sendAsNew(entry.id)));
    acts.push(asking("Discard", "Really discard it?", () => outbox.discard(entry.id)));
    const at = view ? `${clock(outbox.atOf(entry) - view.startMs)}: ` : "";
    return make(
      "div",
      { class: "trouble__one" },
      make("p", {}, make("b", { text: at + say(entry) })),
      make("p", { text: what(entry) }),
      make("div", { class: "trouble__acts" }, ...acts),
    );
  };
  box.replaceChildren(
    ...(bad.length
      ? [make("h3", { text: `${many(bad.length, "press")} need${bad.length === 1 ? "s" : ""} attention` }), ...bad.map(one)]
      : []),
  );
};

const asText = (blob) =>
  new Promise((done, failed) => {
    const reader = new FileReader();
    reader.onload = () => done(reader.result);
    reader.onerror = () => failed(reader.error);
    reader.readAsDataURL(blob);
  });
const fromText = (address) => {
  const [head, body] = address.split(",", 2);
  const bytes = Uint8Array.from(atob(body), (letter) => letter.charCodeAt(0));
  return new Blob([bytes], { type: head.slice(5).split(";")[0] });
};
const saveFile = async () => {
  const entries = await store.entries();
  const runs = (await store.runs()).filter((run) => entries.some((one) => one.run === run.run || one.run === run.uuid));
  const kept = await Promise.all(entries.map(async (one) => (one.blob ? { ...one, blob: await asText(one.blob) } : one)));
  const file = new Blob(
    [
      JSON.stringify(
        { is: "presses of a run desk", version: 1, saved_at: new Date().toISOString(), entries: kept, runs },
        null,
        1,
      ),
    ],
    { type: "application/json" },
  );
  const link = make("a", {
    href: URL.createObjectURL(file),
    download: `run-desk-${new Date().toISOString().slice(0, 16).replace(/:/g, "")}.json`,
  });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
};
const isEntry = (one) =>
  one &&
  /^[0-9a-f-]{36}$/i.test(one.id) &&
  ["cook", "event", "photo"].includes(one.kind) &&
  ["PUT", "DELETE"].includes(one.op) &&
  typeof one.run === "string" &&
  Number.isFinite(one.phoneMs) &&
  one.said &&
  typeof one.said === "object";
/* Reading a file twice, or on two phones, changes nothing: each press has its name. */
const readFile = async (file) => {
  let said;
  try {
    said = JSON.parse(await file.text());
  } catch {
    return "This is not a saved queue. Choose the file that a cooking desk saved.";
  }
  if (!said || said.version !== 1 || !Array.isArray(said.entries))
    return "This is not a saved queue. Choose the file that a cooking desk saved.";
  const good = said.entries.filter(isEntry);
  const rows = good.map((one) => ({
    ...one,
    cook: outbox.status.cook || one.cook,
    state: one.state === "trouble" ? "trouble" : "waiting",
    reason: one.reason || null,
    blob: typeof one.blob === "string" ? fromText(one.blob) : undefined,
  }));
  const fresh = await store.importEntries(rows);
  for (const run of said.runs || [])
    if (run && run.run && Array.isArray(run.presses) && !(await store.run(run.run))) await store.putRun(run);
  outbox.tell();
  outbox.flush(true);
  const bad = said.entries.length - good.length;
  const known = good.length - fresh;
  const counts = [
    `${many(fresh, "press")} read`,
    ...(known ? [`${known} were here already`] : []),
    ...(bad ? [`${bad} could not be read`] : []),
  ];
  return `${counts.join(", ")}. They are sent now; those that the server has are not doubled.`;
};

export const drawPanel = (box, entries) => {
  const { status } = outbox;
  const said = box.querySelector("p");
  const where = !entries.length
    ? "Nothing waits on this phone."
    : status.otherCook
      ? `They are of ${status.otherCook}, and are sent when ${status.otherCook} signs in.`
      : status.signedOut
        ? "They wait on this phone until you sign in."
        : status.offline
          ? "They wait on this phone and go out by themselves when there is a signal."
          : "They are being sent.";
  const count = entries.length ? `${many(entries.length, "press")} on this phone. ` : "";
  const warning = store.lasting ? "" : " This browser keeps nothing beyond this page: do not close it before all is sent.";
  const words = count + where + warning;
  if (said) {
    put(said, words);
    return;
  }
  const answer = make("p", { class: "note", role: "status" });
  const pick = make("input", { type: "file", accept: ".json,application/json", "aria-label": "Read a saved queue" });
  pick.addEventListener("change", async () => {
    if (pick.files[0]) answer.textContent = await readFile(pick.files[0]);
    pick.value = "";
  });
  box.append(
    make("p", { text: words }),
    make(
      "div",
      { class: "queue__acts" },
      make("button", {
        class: "desk-press desk-press--small",
        type: "button",
        text: "Send now",
        onclick: () => outbox.flush(true),
      }),
      make("button", { class: "desk-press desk-press--small", type: "button", text: "Save to a file", onclick: saveFile }),
      make("span", { class: "desk-press desk-press--small queue__file" }, "Read a file", pick),
    ),
    answer,
  );
};
