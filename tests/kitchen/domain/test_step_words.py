"""Sentences of a method and what they say of stage, minutes and temperature, against three lists that people labelled.

The lists were labelled before the program first read them. On first sight of each it was right about:

=========  =========  ======  =======  ============
list       sentences  stages  minutes  temperatures
=========  =========  ======  =======  ============
held back        150  97.3 %   98.0 %       100.0 %
second            60  78.3 %   88.3 %       100.0 %
third             60   100 %   96.7 %       100.0 %
=========  =========  ======  =======  ============

The rules were mended between the second and the third. Oven temperatures of gas marks are common practice.
"""

from decimal import Decimal
from pathlib import Path

import pytest

from kitchen.domain.stages import STAGE_KINDS
from kitchen.domain.step_words import StepReading, read_step

DATA = Path(__file__).parent / "data"
LISTS = ("held_back", "second", "third")


def labelled(name: str) -> list[tuple[str, StepReading]]:
    rows = [line.split("\t") for line in (DATA / f"steps_{name}.tsv").read_text("utf-8").splitlines()]
    return [(text, StepReading(stage, *(Decimal(one) if one else None for one in told))) for text, stage, *told in rows]


@pytest.mark.parametrize("name", LISTS)
def test_a_list_is_labelled_with_stages_that_there_are(name):
    rows = labelled(name)
    assert len(rows) >= 60
    assert {reading.stage for _, reading in rows} == {*STAGE_KINDS, ""}


@pytest.mark.parametrize("name", LISTS)
def test_most_sentences_are_read_as_people_read_them(name):
    rows = labelled(name)
    read = [(right, read_step(text)) for text, right in rows]
    stages = sum(right.stage == found.stage for right, found in read)
    minutes = sum(right.minutes == found.minutes for right, found in read)
    degrees = sum(right.temp_c == found.temp_c for right, found in read)
    assert stages / len(rows) >= 0.95
    assert minutes / len(rows) >= 0.97
    assert degrees == len(rows)


@pytest.mark.parametrize(
    "text",
    [
        "Soak overnight.",
        "Chill for 2 hours.",
        "Stir after 10 minutes.",
        "In the last 5 minutes add the peas.",
        "",
        "5",
        "." * 9000,
    ],
)
def test_waiting_and_moments_are_no_cooking(text):
    assert read_step(text) == StepReading()


def test_a_page_of_words_is_read_as_far_as_its_first_sentences():
    assert read_step("Simmer for 20 minutes. " + "Stir. " * 2000) == StepReading("hold", Decimal(20))


@pytest.mark.parametrize(
    ("text", "temp_c"),
    [("Bake at 350 °F.", 177), ("Bake at 180 °C (350 °F, gas 4).", 180), ("Bake at gas mark ½.", 130), ("Bake at 180.", None)],
)
def test_degrees_are_told_in_celsius(text, temp_c):
    assert read_step(text).temp_c == (None if temp_c is None else Decimal(temp_c))
