/* Elements made, filled and hidden: what every script that draws begins with. */
export const make = (tag, given = {}, ...inside) => {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(given)) {
    if (name.startsWith("on")) made.addEventListener(name.slice(2), value);
    else if (name === "text") made.textContent = value;
    else if (value !== null && value !== false) made.setAttribute(name, value === true ? "" : value);
  }
  made.append(...inside);
  return made;
};
export const put = (node, text) => {
  if (node && node.textContent !== text) node.textContent = text;
};
export const hide = (node, yes) => {
  if (node) node.hidden = yes;
};
