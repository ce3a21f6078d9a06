// Returns what is wrong with a page, whatever its colours.
() => {
  const found = [], told = node => node.outerHTML.slice(0, 120).replace(/\s+/g, " ");
  const shown = node => node.checkVisibility() && node.getClientRects().length > 0;
  for (const closed of document.querySelectorAll("details")) closed.open = true;
  const wide = document.documentElement.scrollWidth;
  if (wide > innerWidth) found.push(`scrolls sideways: ${wide} px`);
  for (const node of document.querySelectorAll("main *, footer *"))
    if (shown(node) && node.getBoundingClientRect().right > innerWidth + 1 && !node.closest(".scroll, svg, .visually-hidden"))
      found.push(`sticks out: ${told(node)}`);
  if (document.querySelectorAll("h1").length !== 1) found.push(`${document.querySelectorAll("h1").length} h1`);
  if (!document.documentElement.lang) found.push("no lang");
  if (!document.title.trim()) found.push("no title");
  const ids = [...document.querySelectorAll("[id]")].map(node => node.id);
  for (const id of new Set(ids.filter((id, place) => ids.indexOf(id) !== place))) found.push(`id twice: ${id}`);
  for (const field of document.querySelectorAll("input:not([type=hidden], [hidden]), select, textarea"))
    if (![...(field.labels ?? [])].some(label => label.textContent.trim()) && !field.ariaLabel)
      found.push(`no label: ${told(field)}`);
  for (const drawn of document.querySelectorAll("img, svg"))
    if (!drawn.closest("[aria-hidden=true]") && !(drawn.alt || drawn.ariaLabel)) found.push(`no name: ${told(drawn)}`);
  for (const link of document.querySelectorAll("a[href], button"))
    if (!(link.textContent.trim() || link.ariaLabel)) found.push(`no words: ${told(link)}`);
  for (const named of document.querySelectorAll("[aria-labelledby], [aria-describedby]"))
    for (const id of ["aria-labelledby", "aria-describedby"].flatMap(name => named.getAttribute(name)?.split(/\s+/) ?? []))
      if (!document.getElementById(id)) found.push(`points at nothing: ${id}`);
  for (const target of document.querySelectorAll("a[href], button, input:not([type=hidden]), select, textarea, summary"))
    if (shown(target) && !target.closest("p, li, td, th, .visually-hidden, .skip, ul.figures")
        && target.getBoundingClientRect().height < 24)
      found.push(`too low to hit: ${told(target)}`);
  return found;
}
