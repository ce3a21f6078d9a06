/* Keeps the screen on while a cook goes on, where the browser lets a page do that, and says so where it does not. */
let lock = null;
let wanted = false;
const say = (words) => {
  const line = document.querySelector("[data-awake]");
  if (!line) return;
  line.hidden = !words;
  line.textContent = words;
};
const WHY = {
  plain: "The screen may go dark: this browser keeps it on only over HTTPS. The minutes go on all the same.",
  none: "The screen may go dark: this browser cannot keep it on. The minutes go on all the same.",
  refused:
    "The screen may go dark: the phone refuses to keep it on, perhaps to save its battery. The minutes go on all the same.",
};
const hold = async () => {
  if (!wanted || lock || document.hidden) return;
  if (!("wakeLock" in navigator)) {
    say(self.isSecureContext ? WHY.none : WHY.plain);
    return;
  }
  try {
    lock = await navigator.wakeLock.request("screen");
    say("The screen stays on while this page is open.");
    lock.addEventListener("release", () => {
      lock = null;
    });
  } catch {
    say(WHY.refused);
  }
};
document.addEventListener("visibilitychange", hold);
export const awake = (yes) => {
  wanted = yes;
  if (yes) {
    hold();
    return;
  }
  if (lock) lock.release();
  say("");
};
