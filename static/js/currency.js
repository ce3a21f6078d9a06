/* Proposes the currency of the browser's region, as long as nobody typed another. */
const OF_REGION = {
  AU: "AUD", CA: "CAD", CH: "CHF", CZ: "CZK", DK: "DKK", GB: "GBP", IN: "INR", JP: "JPY",
  NO: "NOK", NZ: "NZD", PL: "PLN", SE: "SEK", US: "USD", ZA: "ZAR",
};
const field = document.querySelector("input[name=currency]");
const told = navigator.languages.map((one) => new Intl.Locale(one).region).find(Boolean);
if (field && field.value === field.defaultValue && OF_REGION[told]) field.value = OF_REGION[told];
