"""The kinds of stage that a cook goes through, in the trade's words."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Protocol


@dataclass(frozen=True)
class StageKind:
    """One kind of stage.

    ``cooks`` says whether its minutes are cooking minutes (also with the element off, under pressure);
    ``heats`` whether its energy grows with the amount of food; ``attended`` whether the cook usually stands there; ``off`` that
    nothing heats in it.
    """

    key: str
    label: str
    cooks: bool
    heats: bool
    attended: bool
    off: bool = False


STAGE_KINDS: dict[str, StageKind] = {
    kind.key: kind
    for kind in (
        StageKind("preheat", "preheat", cooks=True, heats=False, attended=False),
        StageKind("brown", "brown", cooks=True, heats=True, attended=True),
        StageKind("come_up", "come up", cooks=True, heats=True, attended=False),
        StageKind("hold", "hold", cooks=True, heats=False, attended=False),
        StageKind("bake", "bake", cooks=True, heats=True, attended=False),
        StageKind("reduce", "reduce", cooks=True, heats=True, attended=True),
        StageKind("keep_warm", "keep warm", cooks=False, heats=False, attended=False),
        StageKind("release", "release", cooks=False, heats=False, attended=False, off=True),
        StageKind("rest", "rest", cooks=False, heats=False, attended=False, off=True),
    )
}


def unsaid_temperature(text: str, temp_c: str) -> str:
    """Return a step's temperature for beside its words; empty where the words say it themselves.

    Parameters
    ----------
    text : str
        The step as the cook wrote it.
    temp_c : str
        Its temperature as it is printed. [°C]

    Examples
    --------
    >>> unsaid_temperature("Heat the oven to 180 °C.", "180")
    ''
    >>> unsaid_temperature("Bake until it bubbles at 80 °C.", "180").replace(chr(160), " ")
    '180 °C'
    """
    said = re.search(rf"(?<![\d.,]){re.escape(temp_c)}\s*°\s*C", text)
    return "" if said else f"{temp_c}\u00a0°C"


STAGE_CHOICES: list[tuple[str, str]] = [(kind.key, kind.label) for kind in STAGE_KINDS.values()]

_HOT_C = 55
_CHILLS = re.compile(
    r"\b(?:chill(?:ed)?|refrigerat\w*|fridge|freez\w+|frozen|serve cold|until cold|cool (?:completely|down)|leave to cool)\b",
    re.I,
)


class Cooked(Protocol):
    """What of a step tells whether its food is hot."""

    @property
    def text(self) -> str: ...

    @property
    def stage(self) -> str: ...

    @property
    def temp_c(self) -> Decimal | None: ...


def served_hot(steps: Sequence[Cooked]) -> bool:
    """Return whether food comes hot to the table: something cooks it, and nothing cools it afterwards.

    Where no step has a stage or a temperature, nobody knows, and it is drawn cold.
    """
    hot = [place for place, step in enumerate(steps) if _cooks(step)]
    return bool(hot) and not any(_CHILLS.search(step.text) for step in steps[hot[-1] :])


def _cooks(step: Cooked) -> bool:
    kind = STAGE_KINDS.get(step.stage)
    return (kind is not None and kind.cooks) or (step.temp_c is not None and step.temp_c >= _HOT_C)


STAGE_OFFERS: list[tuple[str, str]] = [
    ("preheat", "preheat the cooker"),
    ("brown", "brown or fry"),
    ("come_up", "come up to boil or pressure"),
    ("hold", "hold at simmer or pressure"),
    ("bake", "bake or roast"),
    ("reduce", "reduce the liquid"),
    ("keep_warm", "keep warm"),
    ("release", "release the pressure"),
    ("rest", "rest off the heat"),
]
"""The stages with their object, for where one is chosen."""
