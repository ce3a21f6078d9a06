/* Numbers and spans of time as people type them: spaces between, a comma for the point, a long minus, a unit behind. */
export const tidy = (text) => text.replace(/\s/g, "").replace(",", ".").replace("−", "-");

/* Seconds of 1:05, 1:05:30 or 1 h 05, hours first; nothing where it is no such span. */
export const clockSpanS = (plain) => {
  const found = plain.match(/^(\d{1,3}):([0-5]?\d)(?::([0-5]?\d))?$/) ?? plain.match(/^(\d{1,3})h(?:([0-5]?\d)m?)?$/i);
  return found ? Number(found[1]) * 3600 + Number(found[2] || 0) * 60 + Number(found[3] || 0) : null;
};

const THOUSANDFOLD = { "": 1, k: 1e3, M: 1e6 };
/* What a number with this behind it is multiplied by: the unit itself, or with a k or M before it; nothing for any other word. */
const timesOf = (behind, unit) => {
  const found = Object.keys(THOUSANDFOLD).find((before) => behind === before + unit);
  const small = found ?? ["", "k"].find((before) => behind.toLowerCase() === (before + unit).toLowerCase());
  return behind ? THOUSANDFOLD[small] : 1;
};

/* Other units of a field's kind, as a phone reads them without a signal: what a number is multiplied by, and what is added.
   tests/journeys/test_typed.py holds them to the server's. */
const FAHRENHEIT = [5 / 9, -160 / 9];
const FOOT = [0.3048, 0];
const OTHERS = {
  "°C": { "°f": FAHRENHEIT, f: FAHRENHEIT, degf: FAHRENHEIT, fahrenheit: FAHRENHEIT, kelvin: [1, -273.15] },
  m: { ft: FOOT, foot: FOOT, feet: FOOT, "′": FOOT, "'": FOOT, yd: [0.9144, 0], mi: [1609.344, 0], cm: [0.01, 0] },
};
/* What two units make that are multiplied with each other: 12 V x 64 Ah, or 12 V 64 Ah, is 768 Wh. */
const PRODUCTS = { Wh: [["V", "Ah"], ["W", "h"]], W: [["V", "A"]] };
const NUMBER = /^(-?(?:\d+\.?\d*|\.\d+))(.*)$/;
const partOf = (behind, unit) => (behind ? (behind === `m${unit}` ? 1e-3 : timesOf(behind, unit)) : undefined);
const productOf = (plain, unit) => {
  const parts = plain.replace(/v(?=\d)/i, "$&x").split(/[x×*·]/i).map((part) => part.match(NUMBER));
  if (parts.length !== 2 || parts.includes(null)) return null;
  const [[, first, one], [, second, other]] = parts;
  const pairs = (PRODUCTS[unit] ?? []).flatMap(([left, right]) => [
    [partOf(one, left), partOf(other, right)],
    [partOf(one, right), partOf(other, left)],
  ]);
  if (!one !== !other && unit !== "°C") pairs.push([1, timesOf(one || other, unit)]);
  const times = pairs.map(([left, right]) => left * right).find((found) => found);
  return times ? Number(first) * Number(second) * times : null;
};
const rounded = (value) => Math.round(value * 1e6) / 1e6;

/* {value} or {error}; an empty field has no value and no error. With a unit, that unit, its thousands and what PRODUCTS and
   OTHERS know may stand behind: 1.02 kWh is 1020 where Wh are meant, and converted says so. A comma before three digits can
   be either sign, and is asked. */
export const readNumber = (text, unit = "") => {
  const shown = text.trim();
  const plain = tidy(text);
  if (!plain) return { value: null };
  if (/^[-−+]?[1-9]\d{0,2},\d{3}(?![\d.,])/.test(text.replace(/\s/g, "")))
    return { error: `“${shown}” can be read in two ways. Type “${shown.replace(",", "")}” or “${shown.replace(",", ".")}”.` };
  const product = productOf(plain, unit);
  if (product !== null) return { value: rounded(product), converted: true };
  const found = plain.match(NUMBER);
  if (!found) return { error: `“${shown}” is not a number. Type digits, like 230 or 12.5.` };
  const [times, more] = OTHERS[unit]?.[found[2].toLowerCase()] ?? [timesOf(found[2], unit), 0];
  if (!times) return { error: `“${shown}” is not a number of ${unit || "figures alone"}. Type digits, like 230 or 12.5.` };
  return { value: rounded(Number(found[1]) * times + more), converted: times !== 1 || more !== 0 };
};
