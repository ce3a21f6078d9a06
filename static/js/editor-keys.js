// Keys of the editor: Ctrl+S or Cmd+S saves; Alt+PageUp and Alt+PageDown move the line, step or part that the cursor is in.
// A moved line goes through the browser's own editing, so that Ctrl+Z takes it back.
const form = document.querySelector("#draft-form");
let follow = null;

const save = () => {
  const pasted = form.querySelector("#id_pasted_steps");
  if (pasted && pasted.value.trim()) form.querySelector("#paste-steps").click();
  else form.dispatchEvent(new Event("save-now"));
};

const put = (area, from, to, text) => {
  area.setSelectionRange(from, to);
  if (!document.execCommand("insertText", false, text)) area.setRangeText(text, from, to, "end");
};

const moveLine = (area, by) => {
  const lines = area.value.split("\n");
  const before = area.value.slice(0, area.selectionStart).split("\n");
  const place = before.length - 1;
  const target = place + by;
  if (target < 0 || target >= lines.length) return;
  const column = before[place].length;
  const top = Math.min(place, target);
  const from = lines.slice(0, top).join("\n").length + (top > 0 ? 1 : 0);
  put(area, from, from + lines[top].length + 1 + lines[top + 1].length, `${lines[top + 1]}\n${lines[top]}`);
  const start = by < 0 ? from : from + lines[top + 1].length + 1;
  area.setSelectionRange(start + column, start + column);
};

const moveRow = (row, kind, by) => {
  const place = Number(row.dataset.place);
  const button = form.querySelector(`#${kind}-${place}-${by < 0 ? "up" : "down"}`);
  if (!button || button.disabled) return;
  const field = document.activeElement;
  const name = field.id.replace(/^id_(?:step|part)-\d+-/, "");
  follow = { id: `id_${kind}-${place + by}-${name}`, at: field.selectionStart };
  button.click();
};

const move = (field, by) => {
  if (field.matches(".editor__part textarea")) return moveLine(field, by);
  const step = field.closest(".editor__step");
  if (step) return moveRow(step, "step", by);
  const part = field.closest(".editor__part");
  return part ? moveRow(part, "part", by) : undefined;
};

form.addEventListener("keydown", (event) => {
  const by = { PageUp: -1, PageDown: 1 }[event.key];
  if (!event.altKey || event.ctrlKey || event.metaKey || !by || event.target.matches("select, button")) return;
  event.preventDefault();
  move(event.target, by);
});
// Enter in the field for a weight saves that weight, and not the page.
form.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || !event.target.name.startsWith("weighs-")) return;
  event.preventDefault();
  event.target.closest(".offers").querySelector("button").click();
});
document.addEventListener("keydown", (event) => {
  if (event.key.toLowerCase() !== "s" || event.altKey || event.shiftKey || event.ctrlKey === event.metaKey) return;
  event.preventDefault();
  save();
});

// The cursor goes where its row went; after an undo it goes to the row that came back.
document.addEventListener("htmx:afterSettle", () => {
  const field = follow && document.getElementById(follow.id);
  follow = null;
  if (!field) return;
  field.focus();
  if (typeof field.selectionStart === "number" && field.setSelectionRange)
    field.setSelectionRange(field.value.length, field.value.length);
});
