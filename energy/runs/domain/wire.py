"""Reading what phones and devices send, strictly: what cannot be kept is refused with its field, its value and what to do."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from datetime import datetime
from typing import Any
from uuid import UUID

MOST_NAMES = 200
"""More names has nothing that is sent."""

_SHOWN_CHARACTERS = 80
_LARGEST = 2**53
_UNKEEPABLE = re.compile("[\x00\ud800-\udfff]")


class Unfit(ValueError):
    """Something that was sent cannot be kept; the message is a sentence."""

    def __init__(self, words: str, field: str = "", value: Any = None) -> None:
        super().__init__(words)
        self.field, self.value = field, value


def shown(value: Any) -> Any:
    """Return a value as it goes back in an answer: short, and never unfit for JSON itself.

    Examples
    --------
    >>> shown(12.5), shown(float("nan")), len(shown("x" * 500))
    (12.5, 'nan', 81)
    """
    if value is None or isinstance(value, bool) or (isinstance(value, int | float) and -_LARGEST < value < _LARGEST):
        return value
    text = _UNKEEPABLE.sub("\ufffd", str(value))
    return text if len(text) <= _SHOWN_CHARACTERS else f"{text[:_SHOWN_CHARACTERS]}…"


def read_json(text: str) -> Any:
    """Return what JSON text says; without NaN or infinity, and no name twice in an object.

    Raises
    ------
    Unfit
        If it is not JSON.

    Examples
    --------
    >>> read_json('{"w": 700}')
    {'w': 700}
    >>> read_json('{"w": NaN}')
    Traceback (most recent call last):
    ...
    energy.runs.domain.wire.Unfit: NaN is no number that can be kept.
    """
    try:
        return json.loads(text, parse_constant=_refuse_constant, object_pairs_hook=_once_each)
    except Unfit:
        raise
    except RecursionError:
        raise Unfit("This JSON goes too deep.") from None
    except ValueError:
        raise Unfit("This is not JSON. Send one JSON object in UTF-8.", value=shown(text)) from None


def read_object(body: bytes) -> dict[str, Any]:
    """Return the JSON object of a body; names that say null are as good as left out.

    Raises
    ------
    Unfit
        If it is not a JSON object in UTF-8.

    Examples
    --------
    >>> read_object(b'{"kind": "pause", "note": null}')
    {'kind': 'pause'}
    """
    try:
        said = read_json(body.decode())
    except UnicodeDecodeError:
        raise Unfit("This is not text in UTF-8. Send one JSON object.") from None
    if not isinstance(said, dict):
        raise Unfit("This is not a JSON object. Send one, in curly brackets.", value=shown(said))
    return {name: value for name, value in said.items() if value is not None}


def _refuse_constant(word: str) -> Any:
    raise Unfit(f"{word} is no number that can be kept.", value=word)


def _once_each(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    if len(pairs) > MOST_NAMES:
        raise Unfit(f"This object has {len(pairs):,} names; at most {MOST_NAMES} are read.")
    said: dict[str, Any] = {}
    for name, value in pairs:
        if name in said:
            raise Unfit(f"“{shown(name)}” is said twice. Say it once.", str(shown(name)))
        said[name] = value
    return said


def number(said: Mapping[str, Any], name: str, low: float, high: float, unit: str = "") -> float | None:
    """Return a number of an object, or None where it is not there.

    Parameters
    ----------
    said : dict
        What was sent.
    name : str
        Its name in there; its unit is told by ``unit``.
    low, high : float
        The least and the most that can be kept.
    unit : str
        For the words of a refusal.

    Raises
    ------
    Unfit
        If it is no number, or lies outside.

    Examples
    --------
    >>> number({"power_w": 700}, "power_w", 0, 1e5, "W")
    700.0
    >>> number({"charge_pct": 120}, "charge_pct", 0, 100, "%")
    Traceback (most recent call last):
    ...
    energy.runs.domain.wire.Unfit: charge_pct should lie between 0 and 100 %. Correct it and send it again.
    """
    value = said.get(name)
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise Unfit(f"{name} should be a number{_of_unit(unit)}, without quotes.", name, shown(value))
    if not low <= value <= high:
        words = f"{name} should lie between {low:,.10g} and {high:,.10g}{chr(160) + unit if unit else ''}."
        raise Unfit(f"{words} Correct it and send it again.".replace("\u00a0", " "), name, shown(value))
    return float(value)


def _of_unit(unit: str) -> str:
    return f" of {unit}" if unit else ""


def words(said: Mapping[str, Any], name: str, longest: int) -> str:
    """Return a text of an object, without space around it; empty where it is not there.

    Raises
    ------
    Unfit
        If it is no text, too long, or holds what no table keeps.

    Examples
    --------
    >>> words({"note": " lid off "}, "note", 200)
    'lid off'
    """
    value = said.get(name, "")
    if not isinstance(value, str):
        raise Unfit(f"{name} should be text, in quotes.", name, shown(value))
    if _UNKEEPABLE.search(value):
        raise Unfit(f"{name} holds a character that cannot be kept (a null, or half of a pair). Take it out.", name, shown(value))
    if len(value.strip()) > longest:
        raise Unfit(f"{name} has {len(value.strip())} characters; {longest} can be kept. Shorten it.", name, shown(value))
    return value.strip()


def instant(said: Mapping[str, Any], name: str) -> datetime:
    """Return an instant of an object.

    Raises
    ------
    Unfit
        If it is missing, no RFC 3339 instant, or has no zone.

    Examples
    --------
    >>> instant({"at": "2026-10-14T12:00:00.25Z"}, "at").isoformat()
    '2026-10-14T12:00:00.250000+00:00'
    """
    value = said.get(name)
    if value is None:
        raise Unfit(f"{name} is missing: say when, as in 2026-10-14T12:00:00Z.", name)
    try:
        moment = datetime.fromisoformat(value) if isinstance(value, str) and "T" in value.upper() else None
        if moment is not None and moment.tzinfo is not None:
            moment.timestamp()
            return moment
    except (ValueError, OverflowError):
        pass
    raise Unfit(f"{name} should be an instant with its zone, as in 2026-10-14T12:00:00Z.", name, shown(value))


def uuid(said: Mapping[str, Any], name: str) -> UUID | None:
    """Return a UUID of an object, or None where it is not there.

    Raises
    ------
    Unfit
        If it is none.

    Examples
    --------
    >>> uuid({"replaces": "00000000-0000-4000-8000-000000000001"}, "replaces")
    UUID('00000000-0000-4000-8000-000000000001')
    """
    value = said.get(name)
    if value is None:
        return None
    try:
        return UUID(value) if isinstance(value, str) and len(value) == 36 else _no_uuid(name, value)
    except ValueError:
        return _no_uuid(name, value)


def _no_uuid(name: str, value: Any) -> UUID:
    raise Unfit(f"{name} should be a UUID, as in 00000000-0000-4000-8000-000000000001.", name, shown(value)) from None


def refuse_unknown(said: Mapping[str, Any], known: set[str]) -> None:
    """Refuse names that mean nothing here, so that a misspelled one is not lost.

    Raises
    ------
    Unfit
        If there is one.

    Examples
    --------
    >>> refuse_unknown({"power": 700}, {"power_w"})
    Traceback (most recent call last):
    ...
    energy.runs.domain.wire.Unfit: “power” is not known here. Known are: power_w.
    """
    for name, value in said.items():
        if name not in known:
            raise Unfit(
                f"“{shown(name)}” is not known here. Known are: {', '.join(sorted(known))}.", str(shown(name)), shown(value)
            )
