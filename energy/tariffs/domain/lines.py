"""Bands and blocks as lines that a person types, read forgivingly and written back the same way.

A band is a name, a price, and where it does not hold always a window, days and months::

    night 0.076 22:00-06:00
    day 0.31
    off-peak 0.076 19:00-07:00 Mon-Fri
    off-peak 0.076 Sat, Sun, holidays
    winter day 0.31 07:00-22:00 Nov-Mar

A block is a price and how far it goes: ``0.0889 to 800``, ``0.0981 to 2000``, ``0.1086 above``.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from decimal import Decimal, InvalidOperation
from itertools import pairwise

from energy.tariffs.domain.bill import Block
from energy.tariffs.domain.hours import DAY_MIN
from energy.tariffs.domain.record import BandRecord

_DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_DAY_SETS = {
    "weekdays": (0, 1, 2, 3, 4),
    "weekday": (0, 1, 2, 3, 4),
    "weekends": (5, 6),
    "weekend": (5, 6),
    "holidays": (7,),
    "holiday": (7,),
}
_WINDOW = re.compile(r"^(\d{1,2})(?::(\d{2}))?-(\d{1,2})(?::(\d{2}))?$")
_NUMBER = re.compile(r"^(?:\d+(?:[.,]\d+)?|[.,]\d+)$")
_BLOCK = re.compile(
    r"^(?P<price>\d+(?:[.,]\d+)?|[.,]\d+)\s*(?:(?:up\s+)?to\s+(?P<to>\d[\d .,]*?)(?:\s*kwh)?|above|over|beyond)?$", re.IGNORECASE
)


class UnreadLine(ValueError):
    """A line that could not be read; the message quotes it and says what is missing."""


def read_bands(text: str) -> tuple[BandRecord, ...]:
    """Return the bands of a text, a line each; empty lines are skipped.

    Raises
    ------
    UnreadLine
        For the first line that cannot be read.

    Examples
    --------
    >>> band, = read_bands("off-peak 0,076 19:00-07:00 Mon-Fri")
    >>> band.name, band.price_per_kwh, band.start_min, band.end_min, band.days
    ('off-peak', Decimal('0.076'), 1140, 420, (0, 1, 2, 3, 4))
    >>> [str(band.price_per_kwh) for band in read_bands("night .09 22-6" + chr(10) + "day ,31")]
    ['0.09', '0.31']
    """
    return tuple(_band(line) for line in _lines(text))


def read_blocks(text: str) -> tuple[Block, ...]:
    """Return the blocks of a text, a line each, in their order.

    Raises
    ------
    UnreadLine
        For a line that cannot be read, limits that do not rise, or a last block with a limit.

    Examples
    --------
    >>> [(str(block.price_per_kwh), block.up_to_kwh) for block in read_blocks("0.09 to 800" + chr(10) + "0.10 above")]
    [('0.09', Decimal('800')), ('0.10', None)]
    """
    blocks = tuple(_block(line) for line in _lines(text))
    limits = [block.up_to_kwh for block in blocks]
    if not blocks:
        return ()
    if any(limit is None for limit in limits[:-1]):
        raise UnreadLine("Only the last block goes on without a limit: the others need “to” and a number of kWh.")
    if limits[-1] is not None:
        raise UnreadLine("The last block needs “above” instead of a limit: what is used beyond it would have no price.")
    numbers = [limit for limit in limits if limit is not None]
    if any(later <= earlier for earlier, later in pairwise(numbers)):
        raise UnreadLine("The limits of the blocks must rise from line to line.")
    return blocks


def band_lines(bands: Iterable[BandRecord]) -> str:
    """Return bands as lines that ``read_bands`` reads back the same.

    Examples
    --------
    >>> band_lines(read_bands("night 0.09 22-6 weekends Nov-Feb"))
    'night 0.09 22:00-06:00 Sat-Sun Jan-Feb, Nov-Dec'
    """
    return "\n".join(_band_line(band) for band in bands)


def block_words(blocks: Iterable[Block]) -> str:
    """Return blocks as lines that ``read_blocks`` reads back the same."""
    return "\n".join(
        f"{block.price_per_kwh:f} {'above' if block.up_to_kwh is None else f'to {block.up_to_kwh:f}'}" for block in blocks
    )


def days_words(days: Sequence[int]) -> str:
    """Return days as a line names them; empty for every day."""
    named = _runs([day for day in days if day < 7], [day.title() for day in _DAYS])
    return ", ".join([*named, *(["holidays"] if 7 in days else [])])


def months_words(months: Sequence[int]) -> str:
    """Return months as a line names them; empty for every month."""
    return ", ".join(_runs([month - 1 for month in months], [month.title() for month in _MONTHS]))


def _lines(text: str) -> list[str]:
    return [line.strip() for line in text.splitlines() if line.strip()]


def _band(line: str) -> BandRecord:
    words = re.sub(r"\s*[-–—]\s*(?=\d|[A-Za-z]{3}\b)", "-", line.replace(";", " ")).replace(", ", " ").split()
    place = next((number for number, word in enumerate(words) if number and _NUMBER.match(word)), None)
    if place is None:
        raise UnreadLine(f"“{line}” needs a name and then a price, like “night 0.09 22:00-06:00”.")
    start, end, days, months = 0, 0, set[int](), set[int]()
    for word in words[place + 1 :]:
        lowered = word.strip(",").lower()
        if window := _WINDOW.match(lowered):
            start, end = _window(window, line)
        elif (found := _named(lowered, _DAYS)) is not None:
            days |= found
        elif lowered in _DAY_SETS:
            days |= set(_DAY_SETS[lowered])
        elif (found := _named(lowered, _MONTHS)) is not None:
            months |= {number + 1 for number in found}
        elif lowered not in ("and", "daily", "always", "from", "in", "on"):
            raise UnreadLine(
                f"“{word}” in “{line}” is neither a window like 07:00-22:00, nor days like Mon-Fri, nor months like Nov-Mar."
            )
    price = _price(words[place], line)
    return BandRecord(" ".join(words[:place]), price, start, end, tuple(sorted(days)), tuple(sorted(months)))


def _window(found: re.Match[str], line: str) -> tuple[int, int]:
    start, end = (int(found[hour]) * 60 + int(found[minute] or 0) for hour, minute in ((1, 2), (3, 4)))
    if start >= DAY_MIN or end > DAY_MIN or int(found[2] or 0) > 59 or int(found[4] or 0) > 59:
        raise UnreadLine(f"“{found[0]}” in “{line}” is no window of a day: hours go from 0 to 24.")
    return start, end % DAY_MIN


def _named(word: str, names: Sequence[str]) -> set[int] | None:
    """Return the numbers of a day, a month or a range of them, which may run over the end; None for another word."""
    ends = [next((number for number, name in enumerate(names) if part.startswith(name)), None) for part in word.split("-")]
    if len(ends) > 2 or any(end is None for end in ends):
        return None
    first, last = ends[0], ends[-1]
    assert first is not None
    assert last is not None
    return {number % len(names) for number in range(first, last + 1 if last >= first else last + len(names) + 1)}


def _price(word: str, line: str) -> Decimal:
    try:
        price = Decimal(word.replace(",", "."))
    except InvalidOperation as error:
        raise UnreadLine(f"“{word}” in “{line}” is no price.") from error
    if price > 1000:
        raise UnreadLine(f"“{word}” in “{line}” is more than 1,000 for a kilowatt-hour.")
    return price


def _block(line: str) -> Block:
    found = _BLOCK.match(line)
    if found is None:
        raise UnreadLine(f"“{line}” should be a price and how far it goes, like “0.09 to 800” or “0.11 above”.")
    limit = found["to"]
    return Block(_price(found["price"], line), None if limit is None else Decimal(re.sub(r"[ ,]", "", limit)))


def _band_line(band: BandRecord) -> str:
    window = ""
    if (band.start_min, band.end_min) != (0, 0):
        end = band.end_min or DAY_MIN
        window = f"{band.start_min // 60:02d}:{band.start_min % 60:02d}-{end // 60:02d}:{end % 60:02d}"
    parts = (band.name, f"{band.price_per_kwh:f}", window, days_words(band.days), months_words(band.months))
    return " ".join(part for part in parts if part)


def _runs(numbers: Sequence[int], names: Sequence[str]) -> list[str]:
    """Return numbers as names, neighbours as ranges."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return [names[run[0]] if len(run) == 1 else f"{names[run[0]]}-{names[run[-1]]}" for run in runs]
