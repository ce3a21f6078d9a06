"""What the program has to say about a cook: a code and its figures, never a sentence. The words room makes that of it."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True)
class Remark:
    """A code and what goes with it, by name: numbers whose unit ends the name, names that somebody gave, days as ISO 8601."""

    code: str
    values: dict[str, float | str] = field(default_factory=dict)


Said = Remark | str
"""A remark, or a sentence as it stands: a person's own, or one that an earlier version of the program kept."""


class Refused(ValueError):
    """What was asked cannot be done: ``said`` tells why, ``because`` what that comes from, where it comes from something else."""

    def __init__(self, said: Remark, because: Said = "") -> None:
        super().__init__(said.code)
        self.said, self.because = said, because


def remark(code: str, /, **values: float | str) -> Remark:
    """Return a remark that comes back from its record just as it is: every number a float.

    Examples
    --------
    >>> remark("gap", span_s=480, from_s=600)
    Remark(code='gap', values={'span_s': 480.0, 'from_s': 600.0})
    """
    return Remark(code, {name: value if isinstance(value, str) else float(value) for name, value in values.items()})
