"""Arguments outside their range are refused, and the sentence names them."""

from __future__ import annotations


def not_negative(**values: float) -> None:
    """Refuse a value below zero (or no number) by its name.

    Examples
    --------
    >>> not_negative(idle_w=-1)
    Traceback (most recent call last):
    ValueError: idle_w should not be below zero
    """
    for name, value in values.items():
        if not value >= 0:
            raise ValueError(f"{name} should not be below zero")


def above_zero(**values: float) -> None:
    """Refuse a value that is not above zero by its name."""
    for name, value in values.items():
        if not value > 0:
            raise ValueError(f"{name} should be above zero")


def share(name: str, value: float) -> None:
    """Refuse a share that is not above 0 and at most 1 by its name."""
    if not 0 < value <= 1:
        raise ValueError(f"{name} should be above 0 and at most 1")
