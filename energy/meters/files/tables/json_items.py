"""What a piece of JSON holds: single readings, lists of them, columns side by side, values by their instants."""

from __future__ import annotations

from typing import Any

from energy.meters.files.clocks.stamps import any_stamp

_DEEPEST = 12
_FEWEST = 3


def expanded(item: Any, depth: int = 0) -> list[Any]:
    """Return the readings inside an item: objects, or rows of plain values.

    Examples
    --------
    >>> expanded({"t": [1, 2], "w": [700, 0]})
    [{'t': 1, 'w': 700}, {'t': 2, 'w': 0}]
    >>> expanded({"status": "ok", "data": {"list": [{"w": 1}, {"w": 2}]}})
    [{'w': 1}, {'w': 2}]
    >>> expanded({"metric": {"name": "plug"}, "values": [[5, "700"]]})
    [{'series': 'plug', '0': 5, '1': '700'}]
    """
    if depth > _DEEPEST:
        return []
    if isinstance(item, list):
        if any(isinstance(one, (dict, list)) for one in item):
            return [row for one in item for row in expanded(one, depth + 1)]
        return [item]
    if not isinstance(item, dict):
        return []
    if item and _is_flat(item):
        return [item]
    return _by_instant(item) or _side_by_side(item) or _inside(item, depth) or [item]


def _is_flat(item: dict[str, Any]) -> bool:
    """Return whether an object is one reading: plain values, whose names are no instants."""
    if next(iter(item))[:1].isdigit():
        return False
    return not any(type(value) in (list, dict) for value in item.values())


def _by_instant(item: dict[str, Any]) -> list[Any]:
    """Return the readings of an object whose names are instants."""
    if len(item) < _FEWEST or any(isinstance(value, list) for value in item.values()):
        return []
    first = list(item)[:5]
    if not all((stamp := any_stamp(key)) is not None and (stamp.day or stamp.epoch_s) for key in first):
        return []
    return [{"time": key, **(value if isinstance(value, dict) else {"value": value})} for key, value in item.items()]


def _side_by_side(item: dict[str, Any]) -> list[Any]:
    """Return the readings of an object that holds columns: lists of plain values, equally long."""
    lists = {key: value for key, value in item.items() if isinstance(value, list) and len(value) >= 2}
    plain = {key: value for key, value in lists.items() if not any(isinstance(one, (dict, list)) for one in value[:5])}
    if len(plain) < 2 or len(plain) < len(lists) or len({len(value) for value in plain.values()}) != 1:
        return []
    return [dict(zip(plain, row, strict=True)) for row in zip(*plain.values(), strict=True)]


def _inside(item: dict[str, Any], depth: int) -> list[Any]:
    """Return the readings of the lists that an object holds, at any depth; nothing where it is a reading itself."""
    found: list[Any] = []
    series = _series_name(item)
    for value in item.values():
        if isinstance(value, list) and value and isinstance(value[0], (dict, list)):
            rows = expanded(value, depth + 1)
            found += [_named(row, series) if isinstance(row, list) and series else row for row in rows]
        elif isinstance(value, dict) and _has_list(value, depth + 1):
            found += expanded(value, depth + 1)
    return found


def _has_list(item: dict[str, Any], depth: int) -> bool:
    """Return whether an object holds a list of readings, at any depth."""
    if depth > _DEEPEST:
        return False
    return any(
        (isinstance(value, list) and bool(value) and isinstance(value[0], (dict, list)))
        or (isinstance(value, dict) and _has_list(value, depth + 1))
        for value in item.values()
    ) or bool(_side_by_side(item))


def _series_name(item: dict[str, Any]) -> str:
    """Return what an object calls the values that it holds."""
    for key in ("metric", "target", "name", "series", "entity_id", "tags"):
        value = item.get(key)
        if isinstance(value, dict) and value:
            return " ".join(str(one) for one in value.values() if isinstance(one, str))
        if isinstance(value, str) and value:
            return value
    return ""


def _named(row: list[Any], series: str) -> dict[str, Any]:
    return {"series": series, **{str(place): value for place, value in enumerate(row)}}


def flat_row(item: Any) -> dict[str, str] | None:
    """Return an object or a row of values as names and texts; objects inside give their own names behind a point.

    Examples
    --------
    >>> flat_row({"time": "18:30", "energy": {"total": 1.5}}), flat_row([5, 700])
    ({'time': '18:30', 'energy.total': '1.5'}, {'0': '5', '1': '700'})
    """
    if isinstance(item, list):
        return {str(place): _text(value) for place, value in enumerate(item) if not isinstance(value, (dict, list))} or None
    if not isinstance(item, dict):
        return None
    if item and _is_flat(item):
        return {key: _text(value) for key, value in item.items()}
    flat: dict[str, str] = {}
    _flatten(item, "", flat, 0)
    return flat or None


def _flatten(item: dict[str, Any], before: str, flat: dict[str, str], depth: int) -> None:
    for key, value in item.items():
        if isinstance(value, dict) and depth < _DEEPEST:
            _flatten(value, f"{before}{key}.", flat, depth + 1)
        elif not isinstance(value, (dict, list)):
            flat[f"{before}{key}"] = _text(value)


def _text(value: Any) -> str:
    if type(value) is str:
        return value
    if value is None:
        return ""
    return repr(value) if isinstance(value, float) else str(value)
