"""Every sample document is read as it was meant."""

import pytest

from kitchen.importers import read_file, read_typed
from tests.kitchen.importers import (
    barley_samples,
    linked_samples,
    marked_samples,
    more_barley_samples,
    text_samples,
    visible_samples,
)

MODULES = (linked_samples, marked_samples, text_samples, visible_samples, barley_samples, more_barley_samples)
SAMPLES = [sample for module in MODULES for sample in module.SAMPLES]


def read(sample):
    return read_file(sample.document) if isinstance(sample.document, bytes) else read_typed(sample.document)


def test_there_are_many_samples_each_with_a_name_of_its_own():
    assert len(SAMPLES) >= 230
    assert len({sample.name for sample in SAMPLES}) == len(SAMPLES)


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda sample: sample.name)
def test_a_sample_is_read_as_meant(sample):
    page = read(sample)
    recipe, wanted = page.recipe, sample.wanted
    assert recipe.title == wanted.title
    assert recipe.lines == wanted.lines
    assert tuple(step.text for step in recipe.steps) == wanted.steps
    assert recipe.makes.number == wanted.number
    assert (recipe.times.prep_min, recipe.times.cook_min, recipe.times.total_min) == (wanted.prep, wanted.cook, wanted.total)
    assert tuple(other.title for other in page.others) == sample.others
    if sample.parts:
        assert tuple(part.title for part in recipe.parts) == sample.parts
    if sample.sections:
        assert tuple(step.section for step in recipe.steps) == sample.sections
