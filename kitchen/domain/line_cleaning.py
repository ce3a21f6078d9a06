"""Taking off a line what only its page put there: entities, tags, bullets, boxes to tick, numbering, footnote signs."""

from __future__ import annotations

import html
import re

_TAG = re.compile(r"<(?P<bold>/?(?:b|strong|h[1-6])|/?[a-z][a-z0-9]{0,9})(?:\s[^<>]{0,80})?/?>", re.IGNORECASE)
_BULLET = re.compile(
    r"^(?:(?:[-–—•‣◦·▪▫▢□■☐☑☒✓✔○●◆►▸→+>]|\*+)(?:\s+|(?=\d|\[))|[•‣◦▪▫▢□■☐☑☒✓✔○●◆►▸]+|\*(?!\*)|\[[ xX]?\]\s*)+(?=\S)",
)
_NUMBERING = re.compile(r"^\(?\d{1,2}[.)]{1,2}\s+(?=[^\W_]|[½⅓⅔¼¾⅛])(?!(?:oz|lb|g|kg|ml|cups?|tsp|tbsp)\b)")
# A page that was scanned shows the figure one as a letter.
_SCANNED_ONE = re.compile(
    r"^[lI|](?=\s(?:\d/\d\s)?(?:cups?|c\.|tsps?|tbsps?|teaspoons?|tablespoons?|lbs?|pounds?|oz|ounces?|pints?|quarts?|pkg|cans?)\b)"
)
_IN_BRACKETS = re.compile(r"^\((\d{1,2})\)\s+(?=\S)")
_FOOTNOTE = re.compile(r"(?<=[\w).])\s?(?:[*†‡§¹²³]+|\[\d\])(?=$|[\s,;)])|^[*†‡§]+(?=\w)")
_MOJIBAKE = re.compile(r"Â(?=[\s½¼¾°])")
# A bracket with at least one bracket inside of it, two deep; a closing one may be missing.
_NESTED = re.compile(r"[(\[][^()\[\]]*[(\[][^()\[\]]*[)\]](?:[^()\[\]]*[(\[][^()\[\]]*[)\]])*[^()\[\]]*(?:[)\]]|$)")
_DEGREES = re.compile(r"º")
# Direction marks, zero-width joiners and the like say nothing about food; variation selectors go with emoji and are harmless.
_INVISIBLE = re.compile("[\u200b-\u200f\u202a-\u202e\u2060-\u2064\u2066-\u2069\ufeff\u00ad\x00-\x08\x0b-\x1f\x7f]")
_ODD = frozenset("&<*†‡§Âº²³¹[")


def clean_line(text: str) -> str:
    """Return the line in one run of words.

    Examples
    --------
    >>> clean_line("▢ 1&frac12;&nbsp;cups  flour*"), clean_line("1. 2 cups sugar"), clean_line("- [ ] (2) eggs")
    ('1½ cups flour*', '2 cups sugar', '2 eggs')
    """
    text = _INVISIBLE.sub("", text.replace("\t", " "))
    if not _ODD.isdisjoint(text):
        text = _without_markup(text)
    text = _BULLET.sub("", " ".join(text.split()))
    if text[:1].isdigit() or text[:1] == "(":
        text = _NUMBERING.sub("", _IN_BRACKETS.sub(r"\1 ", text))
    elif text[:1] in ("l", "I", "|"):
        text = _SCANNED_ONE.sub("1", text)
    return text.strip(" ,;")


def without_footnotes(plain: str) -> str:
    """Return the line without the stars and daggers that point to the foot of its page."""
    if _ODD.isdisjoint(plain):
        return plain
    return _FOOTNOTE.sub("", plain).strip(" ,;")


def with_flat_brackets(plain: str) -> str:
    """Return the line with no bracket inside another one; what stood in the inner one follows a comma.

    Examples
    --------
    >>> with_flat_brackets("1 can (400 g (14 oz)) beans"), with_flat_brackets("rice ((rinsed))")
    ('1 can (400 g, 14 oz) beans', 'rice (rinsed)')
    """
    return _NESTED.sub(_flat, plain) if plain.count("(") + plain.count("[") > 1 else plain


def _flat(found: re.Match[str]) -> str:
    words = re.split(r"\s*[()\[\]]+\s*", found.group()[1:-1])
    return f"({', '.join(filter(None, words))})"


def _without_markup(text: str) -> str:
    if "&" in text:
        text = _INVISIBLE.sub("", html.unescape(html.unescape(text)))
    text = _TAG.sub(lambda found: "**" if found["bold"].lstrip("/").lower() in ("b", "strong") else " ", text)
    return _DEGREES.sub("°", _MOJIBAKE.sub("", text))
