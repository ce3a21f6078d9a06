/* What a cook must know of this phone and its server while the desk is open. */
import { store } from "./desk-store.js";
import { outbox } from "./outbox.js";

const FAR_OFF_S = 120;

const signedOut = (waits) => {
  const what = waits ? "what you logged waits on this phone and is not lost" : "what you log now waits on this phone";
  const address = `/bench/sign-in/?next=${encodeURIComponent(location.pathname)}`;
  return { tone: "bad", words: `Signed out: ${what}.`, acts: [["Sign in here", address]] };
};
const otherCook = (cook) => {
  return { tone: "bad", words: `Presses of ${cook} wait on this phone. They are sent when ${cook} signs in.` };
};
const full = (said) => ({ tone: "bad", words: `${said} What was not taken waits on this phone and is sent again.` });
const clockIsOff = (skewS) => {
  const where = skewS > 0 ? "ahead of" : "behind";
  const minutes = Math.round(Math.round(Math.abs(skewS)) / 60);
  return { words: `This phone’s clock is ${minutes} minutes ${where} the server’s. The server’s time is used.` };
};
const nothingLasts = { words: "This browser keeps nothing beyond this page. Do not close it before everything is sent." };

/* Each state by its name; nothing where there is nothing to say. */
export const stateNotices = (waits) => {
  const { status } = outbox;
  return {
    "signed-out": status.signedOut && signedOut(waits),
    full: status.full && full(status.full),
    other: status.otherCook && otherCook(status.otherCook),
    skew: Math.round(Math.abs(status.skewS)) > FAR_OFF_S && clockIsOff(status.skewS),
    lasting: !store.lasting && nothingLasts,
  };
};
