"""Reading a till slip line by line: what was bought, weighed goods, several of one, deposits, discounts, taxes, the total.

The rule. A price stands at the end of a line, behind it at most a letter for its tax. Of several of one, and of what was weighed,
the line's own arithmetic is checked: where it does not come out to the smallest coin the line is a question. Words alone belong
to the next line, if that only weighs or multiplies. A number before a name without a sign of multiplication is a question, since
the price may be for one or for all.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from costing.domain.countries import COUNTRIES, comma_in
from costing.domain.prices import parse_price
from kitchen.domain.figures import read_figures
from kitchen.domain.money import places_of, round_half_up
from kitchen.domain.units import UNITS, find_unit

MOST_LINES, MOST_CHARACTERS = 400, 120
_SIGN = r"(?:€|£|\$|₹|kr\.?|zł|Kč|Ft|lei|EURO|EUR|USD|GBP|CHF|SEK|NOK|DKK|PLN|CZK|HUF|RON|INR|CAD|AUD|NZD)"
_MONEY = rf"(?:{_SIGN}\s*)?\d[\d.,' ]*\s*{_SIGN}?"
_UNIT = r"kg|g|lbs?|oz|l|ltr|litres?"
_AT = r"(?:@|x|×|à|\*)"
_FIGURES = r"\d{1,3}(?:[.,' ]\d{3})*[.,]\d{2,3}|\d+[.,]\d{2}"
_PRICE = re.compile(
    rf"^(?P<words>.*?)(?:^|\s)(?P<minus>[-−]\s?)?(?:{_SIGN}\s*)?(?P<minus2>[-−])?(?P<price>{_FIGURES})"
    rf"(?P<behind>[-−])?\s*{_SIGN}?(?:\s+(?:[A-Z]{{1,2}}\d?|[1-9]|\*|#))?$"
)
_WHOLE_PRICE = re.compile(
    r"^(?P<words>.*?)(?:^|\s)(?P<minus>[-−]\s?)?[¥￥]?(?P<minus2>[-−])?(?P<price>\d{1,3}(?:,\d{3})+|\d+)(?P<behind>[-−])?\s*円?$"
)
_WEIGHED = re.compile(
    rf"^(?P<name>.*?)\s*(?<![\d.,])(?P<amount>\d+(?:[.,]\d+)?)\s*(?P<unit>{_UNIT})\s*(?:net\s*)?(?:{_AT}|(?=\s\d[\d.,]*\s*(?:{_SIGN})?\s*/))\s*(?P<each>{_MONEY})\s*(?:/|per|le|je|al)?\s*"
    rf"(?P<per>{_UNIT})?$",
    re.IGNORECASE,
)
_TIMES = re.compile(
    rf"^(?P<name>.*?)\s*(?<![\d.,])(?P<count>\d{{1,3}})\s*(?:stk\.?|st\.?|szt\.?|ks|db|pcs|pz|ud)?\s*{_AT}\s*(?P<each>{_MONEY})\s*(?:each|ea)?$",
    re.IGNORECASE,
)
_BARE_WEIGHT = re.compile(
    rf"^(?P<name>.*?)\s*(?<![\d.,])(?P<amount>\d{{1,2}}[.,]\d{{3}})\s*{_AT}\s*(?P<each>{_MONEY})$", re.IGNORECASE
)
_SEVERAL = re.compile(r"^(?P<count>\d{1,3})\s*[x×]\s+(?P<name>[^\W\d].*)$", re.IGNORECASE)
_NUMBERED = re.compile(r"^\d{1,2}\s+[^\W\d_]{3}")
_MONEY_INSIDE = re.compile(rf"(?<![\d.,])\d+[.,]\d{{2}}(?![\d.,]|\s*(?:%|{_UNIT}|ml|cl|cm)\b)", re.IGNORECASE)
_DAY = re.compile(r"\d{1,4}[./-]\d{1,2}[./-]\d{2,4}|\d{1,2}:\d{2}")


GOODS = ("item", "weighed", "times", "question")
_ADDED = (*GOODS, "discount", "deposit", "rounding", "tax on")
_ENOUGH = 3

# What tills of some countries call it (from memory). A line is of a kind when it says nothing else; the first that fits.
_WORD = re.compile(r"[^\W\d_]+")
_VOCABULARY = {
    "subtotal": "subtotal sub mezisoucet välisumma zwischensumme sous soustotal subtotale subtotaal delsumma delsum mellansumma "
    "小計",
    "deposit": "deposit bottle can crv drs pfand leergut einweg mehrweg statiegeld pant consigne deposito vuoto kaucja zaloha "
    "pullopantti pantti fles flessen pfandartikel",
    "rounding": "rounding rundung öresavrundning avrundning arrondi afronding redondeo arrotondamento øreafrunding zaokraglenie",
    "paid": "cash tend tendered change visa debit credit card mastercard maestro eftpos bar rückgeld gegeben geg karte ec cb "
    "carte espèces rendu monnaie contanti resto bancomat pagamento elettronico efectivo tarjeta cambio entregado "
    "kontant kort tillbaka bank pin pinnen wisselgeld contant contactless kontaktlos kartenzahlung girocard bancaire "
    "payment dankort mobilepay byttepenge gotowka reszta karta hotove bankpas kontokort devolver troco dinheiro "
    "multibanco kortti pankkikortti käteinen takaisin お釣り お預り 現金 importo pagato bankkort cashback check cheque paid "
    "ticket restaurant",
    "tax": "vat tax sales gst hst pst qst mwst ust tva iva btw moms mva incl included inkl dont cui di "
    "税 内税 消費税 herav exempt",
    "total": "total balance amount summe gesamt gesamtbetrag totale summa totaal totalt sum suma razem celkem sammanlagt ttc "
    "pagar betala alt yhteensä zu zahlen betrag 合計 お買上げ計 complessivo betalen",
}


def _folded(words: str) -> str:
    """Return words without capitals and accents: tills print neither alike."""
    return "".join(sign for sign in unicodedata.normalize("NFKD", words.casefold()) if not unicodedata.combining(sign))


_KINDS = {kind: frozenset(_folded(words).split()) for kind, words in _VOCABULARY.items()}
_BESIDE = frozenset(
    _WORD.findall(
        "due to pay att betala i alt a b c à payer eur euro pln chf gbp usd sek nok dkk of and net brutto netto refund return "
        "in x for te items item varer varor articles article artikel art posten"
    )
)
_LESS = re.compile(
    r"(?<![^\W_])(?:saved|savings?|discount|coupon|voucher|rabatt?|remise|réduction|korting|sconto|descuento|multibuy|offer|promo|surcharge)(?![^\W_])",
    re.IGNORECASE,
)
_COURTESY = re.compile(
    r"(?<![^\W_])(?:thanks?|welcome|danke|merci|grazie|gracias|tack|bedankt|receipt|beleg|ticket|www|tel|vielen)(?![^\W_])",
    re.IGNORECASE,
)


@dataclass(frozen=True)
class SlipLine:
    """One line of a slip as it was read.

    ``kind``: item, weighed or times (of the line before, where it has no name), words (a name that waits), discount, deposit,
    rounding, tax, subtotal, total, paid, after (the total), nothing, or question. ``price`` is what the line adds. ``amount``
    ``unit`` was weighed, or ``count`` taken, at ``each``.
    """

    text: str
    kind: str
    name: str = ""
    price: Decimal | None = None
    count: int = 1
    amount: Fraction | None = None
    unit: str = ""
    each: Fraction | None = None


def read_slip(text: str, currency: str, country: str = "") -> tuple[SlipLine, ...]:
    """Return the lines of a slip that say anything, in their order; what only weighs or multiplies joins its name.

    Behind the last total no goods come: a line there that no word tells from goods is said, and left alone.

    Examples
    --------
    >>> slip = read_slip("BANANAS\\n0.455 kg @ 1.10/kg 0.50\\nCHICKPEAS 400G 0.65\\nTOTAL 1.15", "GBP", "GB")
    >>> [(line.kind, line.name, str(line.price)) for line in slip]
    [('weighed', 'BANANAS', '0.5'), ('item', 'CHICKPEAS 400G', '0.65'), ('total', '', '1.15')]
    """
    found: list[SlipLine] = []
    for row in text.splitlines()[:MOST_LINES]:
        line = read_slip_line(row, currency, country)
        before = found[-1] if found else None
        if line.kind in ("weighed", "times") and not line.name and before is not None:
            if before.kind == "words":
                found[-1] = replace(line, text=f"{before.text} / {line.text}", name=before.name)
                continue
            if before.kind == "item" and before.price == line.price:
                found[-1] = replace(line, text=f"{before.text} / {line.text}", name=before.name)
                continue
        if line.kind != "nothing":
            found.append(line)
    said = _total_by_sum([line for line in found if line.kind != "words"])
    last = max((place for place, line in enumerate(said) if line.kind == "total"), default=len(said))
    return tuple(replace(line, kind="after") if place > last and line.kind in GOODS else line for place, line in enumerate(said))


def _total_by_sum(lines: list[SlipLine]) -> list[SlipLine]:
    """Take for the total, where no word says it, the first line that has no figure and is what three or more above it come to."""
    summed = Decimal(0)
    for place, line in enumerate(lines):
        if line.kind == "total":
            return lines
        if place >= _ENOUGH and line.kind == "item" and line.price == summed and not re.search(r"\d", line.name):
            return [*lines[:place], replace(line, kind="total", name=""), *lines[place + 1 :]]
        summed += line.price or 0 if line.kind in _ADDED else 0
    return lines


def read_slip_line(text: str, currency: str, country: str = "") -> SlipLine:
    """Return one line of a slip as it is read by itself.

    Examples
    --------
    >>> line = read_slip_line("ZWIEBELN 0,532 kg x 1,99 EUR/kg 1,06 B", "EUR", "DE")
    >>> line.kind, line.name, str(line.amount), line.unit, str(line.price)
    ('weighed', 'ZWIEBELN', '133/250', 'kg', '1.06')
    """
    typed = " ".join(text.split())[:MOST_CHARACTERS]
    home = COUNTRIES.get(country)
    code = currency if home is None else home.currency
    found = _PRICE.match(typed) or (_WHOLE_PRICE.match(typed) if not places_of(code) else None)
    if found is None or _DAY.fullmatch(typed):
        plain = not typed or _DAY.match(typed) or _COURTESY.search(typed) or not re.search(r"[^\W\d_]{2}", typed)
        return (
            SlipLine(text, "nothing") if plain else SlipLine(text, "question" if _MONEY_INSIDE.search(typed) else "words", typed)
        )
    minus = any(found[sign] for sign in ("minus", "minus2", "behind"))
    price = _price(found["price"], code, country)
    if price is None:
        return SlipLine(text, "question")
    return _sorted(SlipLine(text, "item", found["words"].strip(" :"), -price if minus else price), code, country)


def _price(figures: str, currency: str, country: str) -> Decimal | None:
    try:
        price = parse_price(figures.strip(), currency, country).price
    except ValueError:
        return None
    exponent = price.as_tuple().exponent
    return price if isinstance(exponent, int) and -exponent <= max(2, places_of(currency)) else None


def _sorted(line: SlipLine, currency: str, country: str) -> SlipLine:
    """Return the line as its words say what it is."""
    assert line.price is not None
    said = frozenset(_WORD.findall(_folded(line.name)))
    kind = next((kind for kind, words in _KINDS.items() if said & words and said <= words | _besides(kind)), "")
    if kind == "tax":
        home = COUNTRIES.get(country)
        return replace(line, kind="tax in" if home is None or home.tax_in else "tax on", name="")
    if kind:
        return replace(line, kind=kind, name="")
    if line.price < 0:
        return replace(line, kind="discount", name="")
    if _LESS.search(line.name):
        return replace(line, kind="question")
    return _detailed(line, currency, country)


def _besides(kind: str) -> frozenset[str]:
    """What may stand beside a kind's words: taxes and payments are also told of the total, and a subtotal is one."""
    return _BESIDE | _KINDS["total"] if kind in ("tax", "subtotal", "paid") else _BESIDE


def _detailed(line: SlipLine, currency: str, country: str) -> SlipLine:
    weighed, bare, times, several = (pattern.match(line.name) for pattern in (_WEIGHED, _BARE_WEIGHT, _TIMES, _SEVERAL))
    if weighed:
        return _weighed(line, weighed, (weighed["unit"], weighed["per"] or weighed["unit"]), currency, country)
    if bare:
        unit = "kg" if country in COUNTRIES and country != "US" else ""
        return _weighed(line, bare, (unit, unit), currency, country)
    if times:
        one, count = _each(times["each"], currency, country), int(times["count"])
        if one is None or not _comes_out(one * count, line, currency):
            return replace(line, kind="question")
        return replace(line, kind="item" if times["name"] else "times", name=times["name"], count=count, each=one)
    if several:
        return replace(line, name=several["name"], count=int(several["count"]))
    words = frozenset(_WORD.findall(_folded(line.name)))
    if words <= _BESIDE or "@" in line.name or _NUMBERED.match(line.name) or _MONEY_INSIDE.search(line.name):
        return replace(line, kind="question")
    return line


def _weighed(line: SlipLine, found: re.Match[str], units: tuple[str, str], currency: str, country: str) -> SlipLine:
    """Return a line of weighed goods, where its arithmetic comes out; ``units`` are those of the weight and of the price."""
    unit, per = map(find_unit, units)
    amount, each = _weight(found["amount"]), _each(found["each"], currency, country)
    if unit is None or per is None or each is None:
        return replace(line, kind="question")
    by_unit = each * (UNITS[unit.key].per_base or 1) / (UNITS[per.key].per_base or 1)
    if not _comes_out(amount * by_unit, line, currency):
        return replace(line, kind="question")
    return replace(line, kind="weighed", name=found["name"], amount=amount, unit=unit.key, each=each)


def _weight(figures: str) -> Fraction:
    """A scale prints decimals, never thousands."""
    return Fraction(figures.replace(",", "."))


def _each(words: str, currency: str, country: str) -> Fraction | None:
    bare = re.sub(_SIGN, "", words, flags=re.IGNORECASE).strip()
    try:
        return read_figures(bare, comma=comma_in(country))
    except ValueError:
        return None


def _comes_out(exact: Fraction, line: SlipLine, currency: str) -> bool:
    """Whether a line's arithmetic gives its price, to the coin: a till may cut off instead of rounding."""
    assert line.price is not None
    places = places_of(currency)
    return bool(abs(round_half_up(exact, places) - line.price) * 10**places <= 1)
