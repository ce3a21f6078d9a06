// On a wide screen the page as readers will see it stands beside the editor, and follows each saving.
const frame = document.querySelector("[data-preview]");
const wide = window.matchMedia("(min-width: 90em)");
let soon = 0;

const show = () => {
  if (wide.matches && !frame.src) frame.src = frame.dataset.preview;
};
if (frame) {
  wide.addEventListener("change", show);
  show();
  document.addEventListener("htmx:afterRequest", (event) => {
    if (!event.detail.successful || event.detail.requestConfig.verb !== "post" || !frame.src) return;
    clearTimeout(soon);
    soon = setTimeout(() => frame.contentWindow.location.reload(), 300);
  });
}
