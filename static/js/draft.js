/* What was typed into a grid stays in this browser until it is kept: a closed tab loses nothing. It is offered, never put in unasked. */
(() => {
  const form = document.querySelector("form[data-draft]");
  if (!form) return;
  const key = `wattfare draft ${form.dataset.draft}`;
  const LONGEST_MS = 30 * 86400e3, PATIENCE_MS = 300, LEFT_OUT = new Set(["csrfmiddlewaretoken", "log_file", "log_text"]);

  const store = (draft) => { try { localStorage.setItem(key, JSON.stringify(draft)); } catch { /* full, or not allowed: the form itself still works */ } };
  const forget = () => { try { localStorage.removeItem(key); } catch { /* there is nothing to forget then */ } };
  const remembered = () => { try { return JSON.parse(localStorage.getItem(key)); } catch { return null; } };
  const fields = () => [...new FormData(form)].filter(([name, value]) => typeof value === "string" && !LEFT_OUT.has(name));
  const valueIn = (draft, name) => (draft.fields.find(([other]) => other === name) || [])[1];
  const rowsTyped = (draft) => new Set(draft.fields.filter(([name, value]) => /^row\d+-(energy_wh|power_w|charge_pct|note)$/.test(name) && value.trim()).map(([name]) => name.split("-")[0])).size;

  let waits = 0, isOffered = false;  // what is offered is not written over before somebody has chosen
  const keep = () => { clearTimeout(waits); waits = 0; store({ at: Date.now(), fields: fields() }); };
  form.addEventListener("input", () => { if (isOffered) return; clearTimeout(waits); waits = setTimeout(keep, PATIENCE_MS); });
  addEventListener("pagehide", () => { if (waits) keep(); });

  const bringBack = (draft) => {
    form.gridRows(Number(valueIn(draft, "rows")) - 1);
    for (const box of form.querySelectorAll("[type=checkbox]")) box.checked = false;
    for (const [name, value] of draft.fields) {
      for (const field of form.elements) {
        if (field.name !== name || name === "rows") continue;
        if (["checkbox", "radio"].includes(field.type)) field.checked = field.checked || field.value === value;
        else field.value = value;
      }
    }
    form.dispatchEvent(new Event("grid:restored"));
  };
  const button = (words, press) => {
    const made = document.createElement("button");
    made.type = "button";
    made.className = "button button--quiet";
    made.textContent = words;
    made.addEventListener("click", press);
    return made;
  };
  const offer = (draft, count) => {
    const box = document.createElement("div"), words = document.createElement("p"), actions = document.createElement("p");
    box.className = "notice";
    box.setAttribute("role", "status");
    const when = new Date(draft.at).toLocaleString("en-GB", { day: "numeric", month: "long", hour: "2-digit", minute: "2-digit" });
    words.textContent = `You typed ${count} ${count === 1 ? "row" : "rows"} here on ${when} and did not keep them. They are still in this browser.`;
    actions.className = "actions";
    isOffered = true;
    const close = () => { isOffered = false; box.remove(); form.querySelector("[name$=-minute]").focus(); };
    actions.append(button("Bring back what you typed", () => { bringBack(draft); close(); }), button("Throw it away", () => { forget(); close(); }));
    box.append(words, actions);
    form.before(box);
  };

  const draft = remembered(), kept = (form.dataset.kept || "").split(" ");
  if (!draft || !Array.isArray(draft.fields)) return;
  if (kept.includes(valueIn(draft, "once")) || Date.now() - draft.at > LONGEST_MS) forget();
  else if (!("typed" in form.dataset) && rowsTyped(draft)) offer(draft, rowsTyped(draft));
})();
