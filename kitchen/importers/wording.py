"""Text as pages carry it made plain: markup, entities, odd spaces and control characters taken out."""

from __future__ import annotations

import html
import re

from kitchen.importers.markup import scan

_MARKUP = re.compile(r"</?[A-Za-z]|<!--")
_BLOCK = re.compile(r"<(?:p|br|li|div|ul|ol|h[1-6]|tr|section)\b", re.IGNORECASE)
_BOX = re.compile(r"<(?:p|li|div|ul|ol|h[1-6]|tr|section)\b", re.IGNORECASE)
# Where a text has no marks but line breaks, a line end counts behind a sentence, and before an amount or a bullet.
_BROKEN = re.compile(r"(?<=[.!?:)])[^\S\n]*\n\s*(?=\S)|\n\s*(?=[\d½⅓⅔¼¾⅛•▢*-])")
_ITEM = re.compile(r"<li\b", re.IGNORECASE)
_ENTITY = re.compile(r"&(?:#\d{1,7}|#[xX][0-9a-fA-F]{1,6}|[A-Za-z][A-Za-z0-9]{1,31});?")
# Nulls and other controls, lone halves of surrogate pairs, direction marks and zero-width spaces: a database or a reader trips.
_UNSEEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\u200b\u200e\u200f\u202a-\u202e\u2060\u2066-\u2069\ufeff\u00ad]"
)
_SPACES = re.compile(r"[^\S\n]+")
_BULLET = re.compile(r"^(?:[•‣◦·∙●○▪▫■□▢☐☑✓✔➤►▶❑❏*]+\s*|[-–—+]\s+(?=\S)|\[[ xX]?\]\s+)+")
# "(2)" may count the food; "2)" and "2." count steps.
_BRACKETED = re.compile(r"\s*[(\[]\d{1,2}\s*[)\]]")
_NUMBERED = re.compile(
    r"^\s*(?:(?:step|stage)\s*#?\s*\d{1,2}\s*(?:[.:)\]–—-]+\s*|\s+(?=[A-Z])|$)"
    r"|[(\[]?\d{1,2}\s*(?:[.)\]:]+)\s*(?=[^\d\s])|\d{1,2}\s*$)",
    re.I,
)
LONGEST = 200_000


def entities_out(text: str) -> str:
    """Return text with its HTML entities as characters, also where they were spelled twice (``&amp;frac12;``).

    Examples
    --------
    >>> entities_out("salt &amp;amp; pepper &frac12;")
    'salt & pepper ½'
    """
    for _ in range(3):
        if not _ENTITY.search(text):
            break
        text = html.unescape(text)
    return text


def one_line(text: str) -> str:
    """Return text on one line, without markup.

    Examples
    --------
    >>> one_line("<p>Cook&nbsp;the <b>rice</b>.<br>Rest it.</p>")
    'Cook the rice. Rest it.'
    """
    return " ".join(lines_of(text))


def lines_of(text: str) -> list[str]:
    """Return the lines of text that may hold markup: blocks, list items and line breaks each begin a new one.

    Examples
    --------
    >>> lines_of("<ul><li>1 egg</li><li>2 cups milk")
    ['1 egg', '2 cups milk']
    """
    text = text[:LONGEST]
    if "<" in text or "&" in text:
        text = entities_out(text)
    if _MARKUP.search(text):
        text = "\n".join(line for _, line in scan(_keep_lines(text)).blocks())
    text = _UNSEEN.sub("", text.replace("\r\n", "\n").replace("\r", "\n").replace("\u2028", "\n").replace("\u2029", "\n"))
    return [line for piece in text.split("\n") if (line := _SPACES.sub(" ", piece).strip())]


def _keep_lines(text: str) -> str:
    """Return markup whose line ends count where no tag parts its lines: in data that is what they are there for."""
    if not _BLOCK.search(text):
        return text.replace("\n", "<br>")
    return text if _BOX.search(text) else _BROKEN.sub("<br>", text)


def has_items(text: str) -> bool:
    """Say whether text holds the items of a list."""
    return "<" in text and _ITEM.search(text) is not None


def without_bullet(line: str) -> str:
    """Return a line without the sign that began it as an item of a list: "• 2 eggs" and "- 2 eggs" are "2 eggs"."""
    return _BULLET.sub("", line).strip()


def without_number(line: str) -> str:
    """Return a step without the number in front of it.

    Examples
    --------
    >>> [without_number(line) for line in ("1. Chop.", "Step 2: Fry.", "3) Stir.", "2.5 cups of water.", "(2) eggs", "Step 4")]
    ['Chop.', 'Fry.', 'Stir.', '2.5 cups of water.', '(2) eggs', '']
    """
    return line.strip() if _BRACKETED.match(line) else _NUMBERED.sub("", line, count=1).strip()


def is_numbered(line: str) -> bool:
    """Say whether a line begins with the number of a step."""
    return _NUMBERED.match(line) is not None
