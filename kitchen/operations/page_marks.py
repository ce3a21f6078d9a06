"""What a revision remembers of the pages that write in it: whose save was the last, and what was set aside.

A page names itself with every save. A save whose answer was lost is tried again by the same page with the version it last heard
of; as long as nobody else wrote since, that is no clash. A page counts its own typing too (``turn``), so that a save that was
held up on the way never overwrites a later one of the same page.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from kitchen.models import Revision

MOST_ASIDE = 5
_LASTING = ("born", "page", "since", "turn", "aside", "put_by")


@dataclass(frozen=True)
class Seen:
    """The revision, and the state of it, that a person had before their eyes while typing; ``page`` names their page."""

    number: int
    version: int
    page: str = ""
    turn: int = 0


def lasting(typed: Mapping[str, Any]) -> dict[str, Any]:
    """Return what stays with a revision when its typed text is saved or thrown away."""
    return {name: typed[name] for name in _LASTING if name in typed}


def carried_on(typed: Mapping[str, Any]) -> dict[str, Any]:
    """Return what goes along to the next revision: what was set aside."""
    return {"aside": typed["aside"]} if typed.get("aside") else {}


def without_page(typed: Mapping[str, Any]) -> dict[str, Any]:
    """Return the same after somebody else, or another page, wrote: no page may go on as if nothing had happened."""
    return {name: value for name, value in typed.items() if name not in ("page", "since", "turn")}


def is_own_continuation(newest: Revision, seen: Seen) -> bool:
    """Whether everything since the state that was seen was written by the same page."""
    typed = newest.typed
    if not seen.page or typed.get("page") != seen.page:
        return False
    return tuple(typed.get("since", (0, 0))) <= (seen.number, seen.version) <= (newest.number, newest.draft_version)


def is_overtaken(newest: Revision, seen: Seen) -> bool:
    """Whether a later save of the same page arrived before this one."""
    return bool(seen.page) and newest.typed.get("page") == seen.page and 0 < seen.turn < newest.typed.get("turn", 0)


def marked(newest: Revision, seen: Seen) -> dict[str, Any]:
    """Return the marks of a page that saves now over ``newest``, the state before."""
    if not seen.page:
        return {}
    own = newest.typed.get("page") == seen.page
    since = newest.typed.get("since", [newest.number, newest.draft_version]) if own else [newest.number, newest.draft_version]
    return {"page": seen.page, "since": list(since), "turn": max(seen.turn, newest.typed.get("turn", 0) if own else 0)}


def with_aside(typed: Mapping[str, Any], fields: Mapping[str, str], who: str, at: str) -> dict[str, Any]:
    """Return the typed state with one more page set aside, the newest first."""
    kept = [{"fields": dict(fields), "who": who, "at": at}, *typed.get("aside", [])][:MOST_ASIDE]
    return {**typed, "aside": kept}
