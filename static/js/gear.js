/* Fields that do not matter for the kind that is chosen are hidden; one that was typed wrong stays in sight. */
const sift = (gear) => {
  const kind = gear.querySelector("select[name$=kind]");
  if (!kind) return;
  for (const one of gear.querySelectorAll("[data-kinds]")) {
    const field = one.closest(".field");
    field.hidden = !one.dataset.kinds.split(" ").includes(kind.value) && !field.matches(".field--bad");
  }
};
for (const gear of document.querySelectorAll("[data-gear]")) {
  gear.addEventListener("change", () => sift(gear));
  sift(gear);
}
