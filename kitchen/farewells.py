"""Farewells: what other apps end when an account is closed. An app registers each in ``AppConfig.ready()``."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from typing import Any

Farewell = Callable[[Any, datetime], None]

_registered: list[Farewell] = []


def register_farewell(farewell: Farewell) -> None:
    """Let something end with an account: it is called with the account and the moment, inside the transaction that closes it."""
    if farewell not in _registered:
        _registered.append(farewell)


def farewells() -> Iterator[Farewell]:
    """Yield what ends with an account."""
    yield from _registered
