"""The reference table that comes with the program, read from its files."""

from functools import lru_cache
from pathlib import Path

from kitchen.domain.reference import ReferenceFood, read_rows, read_weights

_FOLDER = Path(__file__).resolve().parent


@lru_cache(maxsize=1)
def load_reference() -> tuple[ReferenceFood, ...]:
    """Return every row of the reference table, each with its household weights.

    References
    ----------
    USDA National Nutrient Database for Standard Reference, Release 28 (2015), public domain.

    Examples
    --------
    >>> {food.name: food.sr_number for food in load_reference()}["whole milk"]
    1077
    """
    with (_FOLDER / "weights.csv").open(encoding="utf-8", newline="") as lines:
        weights = read_weights(lines)
    with (_FOLDER / "foods.csv").open(encoding="utf-8", newline="") as lines:
        return tuple(read_rows(lines, weights))
