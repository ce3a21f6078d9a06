// Saving in the background says so when it fails: no answer, or a refusal. What was typed stays on the page.
// A button pressed meanwhile waits for its answer, so that a page never takes its own saving for somebody else's.
const tell = (words) => {
  const state = document.querySelector("#draft-state");
  if (!state) return;
  const notice = document.createElement("p");
  notice.className = "notice notice--bad";
  notice.textContent = words;
  state.replaceChildren(notice);
};

// After signing in again in another window the page's token is old: fetch the new one, so that the next saving goes through.
const renewToken = async () => {
  const answer = await fetch(location.href, { credentials: "same-origin" });
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const fresh = page.querySelector("#draft-form input[name=csrfmiddlewaretoken]");
  if (!fresh) return false;
  document.querySelectorAll("input[name=csrfmiddlewaretoken]").forEach((field) => {
    field.value = fresh.value;
  });
  return true;
};

document.addEventListener("htmx:sendError", () => {
  tell(
    "Not saved: the kitchen does not answer. What you typed is still on this page " +
      "and is saved with your next change once it answers again.",
  );
});
document.addEventListener("htmx:responseError", async (event) => {
  const code = event.detail.xhr.status;
  if (code === 413) {
    tell("Not saved: that is too large to take in. What you typed is still on this page; make it shorter.");
  } else if (code === 403 && (await renewToken().catch(() => false))) {
    tell("Not saved yet: this page had grown old. It is fresh again; save once more.");
  } else {
    tell(`Not saved: the kitchen answered with an error (${code}). What you typed is still on this page.`);
  }
});

let underWay = 0;
let pressed = null;
let leaving = false;

document.addEventListener("htmx:beforeRequest", (event) => {
  if (pressed || leaving) event.preventDefault();
  else underWay += 1;
});
document.addEventListener("htmx:afterRequest", () => {
  underWay = Math.max(0, underWay - 1);
  if (underWay > 0 || !pressed) return;
  const { form, button } = pressed;
  pressed = null;
  form.requestSubmit(button && button.isConnected ? button : undefined);
});
document.addEventListener("submit", (event) => {
  if (underWay === 0) {
    leaving = true;
  } else {
    event.preventDefault();
    pressed = { form: event.target, button: event.submitter };
  }
});
window.addEventListener("pageshow", () => {
  leaving = false;
});
