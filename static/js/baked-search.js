/* The library's search in a copy made of plain files: every word that is typed must begin a word of the recipe. */
const form = document.querySelector("[data-up]");
const field = form.querySelector("input");
const list = form.querySelector("ul");
const recipes = fetch(`${form.dataset.up}search.json`).then((answer) => answer.json());
const begins = (words, typed) => words.split(/[^\p{L}\p{N}]+/u).some((word) => word.startsWith(typed));
const look = async () => {
  const typed = field.value.toLowerCase().split(/\s+/).filter(Boolean);
  const found = typed.length ? (await recipes).filter((one) => typed.every((word) => begins(one.words, word))) : [];
  list.replaceChildren(
    ...found.map((one) => {
      const link = Object.assign(document.createElement("a"), { href: form.dataset.up + one.at, textContent: one.title });
      const row = document.createElement("li");
      row.append(link);
      return row;
    }),
  );
  if (typed.length && !found.length) list.textContent = "Nothing here has these words.";
};
field.value = new URLSearchParams(location.search).get("q") ?? "";
form.addEventListener("submit", (event) => event.preventDefault());
field.addEventListener("input", look);
form.hidden = false;
look();
