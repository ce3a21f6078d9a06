/* A recipe's page: what a change of servings, measures or kit brought is said to those who listen, an answer for the own kit is
   brought into view, and on wide screens the plates stand open, since there is room. */
const said = document.createElement("p");
said.className = "visually-hidden";
said.setAttribute("role", "status");
document.body.append(said);

const open = () => {
  if (!matchMedia("(min-width: 52em)").matches) return;
  for (const plate of document.querySelectorAll("details.fold:not(.fold--shut)")) plate.open = true;
};
open();
/* What stood open before a change of servings, measures or kit stands open after it. */
const name = (plate) => plate.querySelector("summary").firstElementChild?.textContent;
let opened = [];
document.addEventListener("htmx:beforeSwap", () => {
  opened = [...document.querySelectorAll("details.fold[open]")].map(name);
});
document.addEventListener("htmx:afterSettle", (event) => {
  if (event.detail.target?.id !== "main") return;
  open();
  for (const plate of document.querySelectorAll("details.fold")) plate.open ||= opened.includes(name(plate));
  said.textContent = document.querySelector("[data-say]")?.textContent.replace(/\s+/g, " ").trim() ?? "";
  const answer = document.querySelector("[data-focus]");
  if (answer && event.detail.requestConfig?.path?.includes("/kit/")) {
    answer.focus({ preventScroll: true });
    answer.scrollIntoView({ block: "nearest" });
  }
});
/* A link to a plate opens it. */
const follow = () => {
  const at = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
  const plate = at && (at.matches("details.fold") ? at : at.querySelector("details.fold"));
  if (plate) plate.open = true;
};
addEventListener("hashchange", follow);
follow();
