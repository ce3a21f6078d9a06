/* A meter's file before it is read in: what is pointed at is looked at again at once, and a long reading says how far it is. */
const look = document.querySelector("form[data-look]");
if (look) {
  const again = look.querySelector("button[value=look]");
  look.addEventListener("change", (event) => {
    if (event.target.closest("[data-again]")) look.requestSubmit(again);
  });
}
for (const form of document.querySelectorAll("form[data-progress]")) {
  form.addEventListener("submit", (event) => {
    if (event.submitter && event.submitter.value === "look") return;
    const shown = form.querySelector(".reading-on");
    const bar = shown.querySelector("progress");
    const share = shown.querySelector(".reading-on__share");
    const ask = async () => {
      try {
        const answer = await fetch(form.dataset.progress, { headers: { Accept: "application/json" } });
        const { share: done } = await answer.json();
        if (done === null) return;
        shown.hidden = false;
        bar.value = done;
        share.textContent = `${Math.round(done * 100)} %`;
      } catch {
        /* The answer itself is on its way; nothing is lost by not knowing how far it is. */
      }
    };
    const asking = setInterval(ask, 700);
    addEventListener("pagehide", () => clearInterval(asking), { once: true });
  });
}
