/* Proposes the browser's time zone and the currency of its region, where nobody has chosen others. */
const OF_REGION = {
  AE: "AED", AR: "ARS", AU: "AUD", BD: "BDT", BG: "BGN", BR: "BRL", CA: "CAD", CH: "CHF", CL: "CLP", CN: "CNY", CO: "COP",
  CZ: "CZK", DK: "DKK", EG: "EGP", GB: "GBP", HK: "HKD", HU: "HUF", ID: "IDR", IL: "ILS", IN: "INR", IS: "ISK", JP: "JPY",
  KE: "KES", KR: "KRW", LI: "CHF", LK: "LKR", MA: "MAD", MX: "MXN", MY: "MYR", NG: "NGN", NO: "NOK", NP: "NPR", NZ: "NZD",
  PE: "PEN", PH: "PHP", PK: "PKR", PL: "PLN", RO: "RON", RS: "RSD", SA: "SAR", SE: "SEK", SG: "SGD", TH: "THB", TR: "TRY",
  TW: "TWD", UA: "UAH", US: "USD", UY: "UYU", VN: "VND", ZA: "ZAR",
};
const propose = () => {
  const told = navigator.languages.map((one) => new Intl.Locale(one).region).find(Boolean);
  const money = document.querySelector("input[name=currency]");
  const free = money.value === money.defaultValue && !("stands" in money.dataset);
  if (free && OF_REGION[told]) money.value = OF_REGION[told];
  const zones = document.querySelector("select[name=time_zone]");
  const here = Intl.DateTimeFormat().resolvedOptions().timeZone;
  if ([...zones.options].some((one) => one.value === here)) zones.value = here;
};
// A form that came back with a mistake holds what somebody chose.
if (!document.querySelector(".field--bad")) propose();
