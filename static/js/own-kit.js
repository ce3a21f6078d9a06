/* A page is the same for everybody. Where this browser remembers a kit, the part of the page that answers for it is fetched once
   the page is there: the link that stands in that part says from where, and leads there without script. */
document.addEventListener("DOMContentLoaded", () => {
  if (!/(^|; )(__Host-)?kit=/.test(document.cookie)) return;
  document.querySelector('[data-hx-trigger="own-kit"]')?.dispatchEvent(new Event("own-kit"));
});
