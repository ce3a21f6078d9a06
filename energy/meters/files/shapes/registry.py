"""The readers of the shapes that a file may have: whichever is surest of a file reads it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from energy.meters.files.columns.shape import UnreadableFile
from energy.meters.files.shapes.plain import plain_guess
from energy.meters.files.tables.day_records import records_guess
from energy.meters.files.tables.day_tables import days_guess
from energy.meters.files.tables.guessing import across_guess, moments_guess
from energy.meters.files.tables.sections import in_sections, rows_of_shape
from energy.meters.files.tables.table import Guess, Table
from energy.meters.files.tables.xml_rows import intervals_guess


@dataclass(frozen=True)
class ShapeReader:
    """One shape: its name, how sure it is where it knows a file (0..1), its guess, and a sample with the energy it holds. [Wh]

    ``guess`` returns None for a file of another shape, and refuses one of its own that cannot be read.
    """

    name: str
    sure: float
    guess: Callable[[Table], Guess | None]
    sample: str
    sample_wh: float


_DAY = ",".join(f"{n // 2:02d}:{n % 2 * 30:02d}" for n in range(48))

_READING = (
    "<IntervalReading><timePeriod><duration>900</duration><start>{}</start></timePeriod><value>2500</value></IntervalReading>"
)
_FEED = (
    '<?xml version="1.0" encoding="UTF-8"?>\n<feed xmlns="http://naesb.org/espi">\n'
    '<entry><link rel="self" href="/UsagePoint/1/MeterReading/1"/><link rel="related" href="/ReadingType/7"/></entry>\n'
    '<entry><link rel="self" href="/ReadingType/7"/><ReadingType><accumulationBehaviour>4</accumulationBehaviour>\n'
    "<flowDirection>1</flowDirection><powerOfTenMultiplier>-1</powerOfTenMultiplier><uom>72</uom></ReadingType></entry>\n"
    '<entry><link rel="self" href="/UsagePoint/1/MeterReading/1/IntervalBlock/1"/><IntervalBlock>\n'
    + "\n".join(_READING.format(1_791_993_600 + 900 * n) for n in range(4))
    + "\n</IntervalBlock></entry></feed>\n"
)

READERS = (
    ShapeReader(
        "numbered records", 1.0, records_guess, f"200,M1,E1,1,E1,N,S,KWH,30\n300,20261014,{','.join(['0.1'] * 48)},A\n", 4800
    ),
    ShapeReader("a plain log", 0.9, plain_guess, "minutes;wh;stage\n0;0;brown\n10;105,5;come up\n21;213;\n", 213),
    ShapeReader("a row a day", 0.8, days_guess, f"Date,{_DAY}\n2026-10-14,{','.join(['0.1'] * 48)}\n", 4800),
    ShapeReader("intervals in XML", 1.0, intervals_guess, _FEED, 1000),
    ShapeReader(
        "a column a moment",
        0.7,
        across_guess,
        f"sensor,{','.join(f'2026-10-14 18:{n}0' for n in range(6))}\nHob power (W),600,600,600,600,600,600\n",
        500,
    ),
    ShapeReader(
        "names and values joined",
        0.5,
        moments_guess,
        "".join(f"time=2026-10-14T18:{n}0:00 plug=hob power=600 W\n" for n in range(6)),
        500,
    ),
    ShapeReader(
        "a row a moment",
        0.5,
        moments_guess,
        "Zeit;Leistung [kW]\n14.10.2026 18:30;1,2\n14.10.2026 18:40;1,2\n14.10.2026 18:50;0\n",
        400,
    ),
)


def guess(table: Table) -> Guess:
    """Return how a file is laid out, as the reader says that is surest of it.

    Raises
    ------
    UnreadableFile
        If none can read it: in the words of the surest of those that know its shape.
    """
    if table.shape.header_row >= 0 and not table.below:
        raise UnreadableFile("The file names its columns but has no readings below them. Choose another, or add the readings.")
    refused: UnreadableFile | None = None
    for reader in sorted(READERS, key=lambda one: -one.sure):
        try:
            found = reader.guess(table)
        except UnreadableFile as error:
            refused = refused or error
            continue
        if found is not None:
            shape = in_sections(found.shape, table.below)
            return replace(found, shape=shape, data=rows_of_shape(table.rows, shape)) if shape.sections else found
    raise refused or UnreadableFile(
        "No row holds a time and a figure beside it. Choose another file, or export it with its times."
    )
