"""Whether any text breaks a reader or keeps it busy: nonsense in small pieces, and one piece over and over in megabytes.

    .venv/bin/python -m tests.measure.fuzz [INPUTS]

Every reader of what people type, paste, send and attach gets so many inputs (100,000 in all unless another number is given),
drawn from a seed, and then each of the pieces again and again at 50, 100 and 200 kB. A refusal is an answer, anything else that
is raised is a fault. "Growth" is how the time grows with the length: 1 in proportion, 2 with its square; "at 200 kB" is the
slowest piece, "memory" the most that one input took for each of its bytes. A fault, or more than a second for 200 kB, ends it
with 1.
"""

from __future__ import annotations

import math
import random
import sys
import time
import tracemalloc
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime

Reader = Callable[[str], object]
NOW = datetime(2026, 10, 14, 18, tzinfo=UTC)
SIZES = (50_000, 100_000, 200_000)
SLOW_S = 1.0

_WORDS = r"""
1 0 12.5 1,024 1e999 -0 1/0 ½-2 2026-10-14T18:00:00Z 14.10.2026 24:61 NaN 99999999999999999999 \u0000 \ g ml tbsp tin kWh Wh W kW
°F qt 1h20 salt or and taste soaked drained time power energy timestamp sep=; € null true {" ": "a":1, [[ [] {}, <li> </li> <br>
<!-- <script> &amp; &# "name": http:// data: above
"""
_SIGNS = """,;\t|:.-+/([{}])"'<>&=#%°½¼ \n\r\0\u2028\ufeff\u0661\U0001f372éßİ"""
_LINES = (
    "0.31 day 07:00-22:00",
    "to 800",
    "14.10.2026 18:00",
    "3 1/2",
    "\r\n",
    "Ingredients",
    "Serves 4",
    "1. ",
    "- ",
    "for 4 minutes",
)
PIECES = (*_SIGNS, *_WORDS.split(), *_LINES, "a" * 40)


@dataclass
class Told:
    """What became of one reader."""

    inputs: int = 0
    refused: int = 0
    faults: dict[str, str] = field(default_factory=dict)
    slowest: tuple[float, str] = (0.0, "")
    growth: tuple[float, str] = (0.0, "")
    memory: float = 0.0


def readers() -> dict[str, tuple[Reader, tuple[type[Exception], ...]]]:
    """Return every reader with what it raises when it refuses."""
    from costing.domain.prices import parse_price
    from energy.meters.domain.device_lines import TooMany, read_lines
    from energy.meters.files.any_log import read_log
    from energy.meters.files.columns.shape import UnreadableFile
    from energy.meters.files.looking import look_at
    from energy.runs.domain.wire import Unfit, read_object
    from energy.tariffs.domain.lines import UnreadLine, read_bands, read_blocks
    from kitchen.domain.arranging import read_undo
    from kitchen.domain.lines import parse_line
    from kitchen.domain.packs import parse_pack
    from kitchen.domain.remark import Refused
    from kitchen.domain.search import asked_words
    from kitchen.domain.typed import split_steps
    from kitchen.domain.typed_quantity import Expected, read_quantity
    from kitchen.forms.kit import remembered_kit
    from kitchen.importers.found import UnreadableRecipe
    from kitchen.importers.reading import read_file, read_typed

    def sent(text: str) -> bytes:
        return text.encode("utf-8", "surrogatepass")

    watts = Expected("W", 0, 10_000)
    return {
        "a line of a recipe": (parse_line, ()),
        "steps": (split_steps, ()),
        "a recipe as text": (read_typed, (UnreadableRecipe,)),
        "a saved page": (lambda text: read_file(sent(text)), (UnreadableRecipe,)),
        "a saved page's data": (lambda text: read_file(sent(_PAGE % text)), (UnreadableRecipe,)),
        "what was undone": (read_undo, ()),
        "words to search": (asked_words, ()),
        "a kit": (remembered_kit, ()),
        "a quantity": (lambda text: read_quantity(text, watts), (Refused, ValueError)),
        "a pack": (parse_pack, (Refused, ValueError)),
        "a price": (lambda text: parse_price(text, "EUR"), (Refused, ValueError)),
        "bands": (lambda text: read_bands(text[:_MOST_TYPED]), (UnreadLine,)),
        "blocks": (lambda text: read_blocks(text[:_MOST_TYPED]), (UnreadLine,)),
        "a press": (lambda text: read_object(sent(text)), (Unfit,)),
        "readings of a device": (lambda text: read_lines(text, NOW), (TooMany, Unfit)),
        "a meter's file, looked at": (lambda text: look_at(sent(text)), ()),
        "a meter's file, read": (lambda text: read_log(sent(text)), (UnreadableFile,)),
    }


_MOST_TYPED = 4000
"""So much the form of a tariff takes."""

_PAGE = '<html><script type="application/ld+json">{"@type":"Recipe","name":"x","recipeIngredient":[%s]}</script></html>'


def main() -> int:
    """Print the table; 1 after a fault or a reader that is too slow."""
    import deploy.wsgi  # noqa: F401  (it names the settings and sets everything up)

    inputs = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    found = readers()
    print("| reader | inputs | refused | faults | growth | of | at 200 kB | of | memory |\n" + "| --- " * 9 + "|")
    worst = 0
    for name, (read, refusals) in found.items():
        told = tried(read, refusals, inputs // len(found), random.Random(name))
        pressed(read, refusals, told)
        slow_s, of = told.slowest
        power, grown = told.growth
        print(
            f"| {name} | {told.inputs:,} | {told.refused:,} | {len(told.faults)} | {power:.1f} | {grown!r} "
            f"| {slow_s * 1000:.0f} ms | {of!r} | {told.memory:.0f} B |",
            flush=True,
        )
        for kind, text in told.faults.items():
            print(f"  {kind}: {text!r}")
        worst = max(worst, bool(told.faults) or slow_s > SLOW_S)
    return worst


def tried(read: Reader, refusals: tuple[type[Exception], ...], inputs: int, chance: random.Random) -> Told:
    """Give a reader nonsense made of a few pieces, some of them more than once."""
    told = Told()
    for _ in range(inputs):
        pieces = chance.choices(PIECES, k=chance.randint(1, 12))
        text = "".join(piece * chance.choice((1, 1, 1, 2, 7)) + chance.choice(("", "", " ", "\n")) for piece in pieces)
        asked(read, refusals, text, told)
    return told


def pressed(read: Reader, refusals: tuple[type[Exception], ...], told: Told) -> None:
    """Give a reader one piece over and over, and see how its time grows."""
    for piece in PIECES:
        took: list[float] = []
        for size in SIZES:
            took.append(asked(read, refusals, piece * (size // len(piece.encode("utf-8", "surrogatepass"))), told))
            if took[-1] > 5 * SLOW_S:
                break
        told.slowest = max(told.slowest, (took[-1], piece))
        if took[-1] > 0.02:
            told.growth = max(told.growth, (math.log2(took[-1] / took[0]) / max(len(took) - 1, 1), piece))
    text = told.slowest[1] * (SIZES[0] // len(told.slowest[1].encode("utf-8", "surrogatepass")))
    tracemalloc.start()
    asked(read, refusals, text, told)
    told.memory = tracemalloc.get_traced_memory()[1] / SIZES[0]
    tracemalloc.stop()


def asked(read: Reader, refusals: tuple[type[Exception], ...], text: str, told: Told) -> float:
    """Read a text once, count how it ended, and return how long it took. [s]"""
    told.inputs += 1
    began = time.process_time()
    try:
        read(text)
    except refusals:
        told.refused += 1
    except Exception as error:
        told.faults.setdefault(f"{type(error).__name__}: {str(error)[:60]}", text[:80])
    return time.process_time() - began


if __name__ == "__main__":
    sys.exit(main())
