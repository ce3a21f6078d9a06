"""Which revision the energy card's figures were measured on, and what it says where that is not the one shown."""

from __future__ import annotations

from fractions import Fraction

import pytest
from django.db import connection
from django.template.loader import render_to_string
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from energy.cards import EnergyCard
from energy.runs.operations.judging import judge_run
from kitchen.cards import CardRequest
from kitchen.models import Revision

CARD = EnergyCard()


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


def ask() -> CardRequest:
    return CardRequest(4, 4, path="/r/lentil-pot/")


def shown(facts):
    return CARD.present(CARD.prepare(CARD.read(facts), ask()), ask())["energy"]


def more_lentils(revision, noon, grams, *, number=2, minutes=11):
    """Write a revision with so many grams of lentils, and so many minutes to come up."""
    newer = Revision.objects.create(recipe=revision.recipe, number=number, servings=4, created_at=noon)
    part = newer.parts.create(position=0)
    amount = Fraction(grams)
    part.lines.create(position=0, text=f"{grams} g lentils", low=amount, high=amount, unit="g", name="lentils")
    for place, (stage, span) in enumerate((("brown", 10), ("come_up", minutes), ("release", 10))):
        newer.steps.create(position=place, text=stage, stage=stage, minutes=span)
    return newer


@pytest.fixture
def weighed(revision):
    """The measured revision, its lentils read as 300 g."""
    revision.parts.get().lines.update(low="300/1", high="300/1", unit="g", name="lentils")
    return revision


def test_what_changed_since_the_measurement_is_frozen_in_words(run, weighed, noon):
    facts = CARD.collect(more_lentils(weighed, noon, 450, minutes=15), at=noon)
    since = "150 g more food, come up 11 → 15 min, so the figures are low for this one"
    assert (facts["earlier_revision"], facts["changed_since"]) == (1, since)
    card = shown(facts)
    assert card.told.earlier_words == f"Measured on revision 1; since then {since}."
    assert (card.standing, card.badge) == ("estimated", "measured on revision 1")
    assert "notice--warn" in render_to_string("energy/card.html", {"energy": card})
    found = {headline.key: headline for headline in CARD.headlines(CARD.prepare(CARD.read(facts), ask()), ask())}
    assert found["energy"].standing == found["minutes"].standing == "estimated"


def test_within_two_percent_the_measurement_stays_one(run, weighed, noon):
    facts = CARD.collect(more_lentils(weighed, noon, 303), at=noon)
    assert facts["changed_since"] == ""
    card = shown(facts)
    assert card.told.earlier_words == "Measured on revision 1, which has the same food, liquid and stages as this one."
    assert (card.standing, card.badge) == ("measured", "measured, one run")


def test_an_edition_from_before_says_that_something_changed(run, weighed, noon):
    facts = CARD.collect(more_lentils(weighed, noon, 450), at=noon)
    del facts["changed_since"]
    assert shown(facts).told.earlier_words == "Measured on revision 1; the recipe has changed since."


def test_going_back_to_an_old_revision_finds_its_runs_again(run, record, weighed, noon):
    second = more_lentils(weighed, noon, 450)
    record(((0, 0), (10, 105), (21, 225), (31, 225)), revision=second, later=1)
    assert CARD.collect(more_lentils(weighed, noon, 460, number=3), at=noon)["earlier_revision"] == 2
    back = CARD.collect(more_lentils(weighed, noon, 300, number=4), at=noon)
    assert (back["earlier_revision"], back["changed_since"], back["energy_wh"]) == (1, "", pytest.approx(213))


def test_the_runs_of_each_revision_are_linked_with_their_figures_and_their_standing(run, record, weighed, noon):
    second = more_lentils(weighed, noon, 450)
    left_out = record(((0, 0), (10, 105), (21, 225), (31, 225)), revision=second, later=1)
    judge_run(run=left_out, verdict="left_out", reason="The lid was open.")
    links = CARD.revision_links(weighed.recipe)
    day = timezone.localtime(noon)
    assert plain(links[1][0].label) == f"measured {day.day} {day:%B %Y}, 213.0 ± 2.6 Wh"
    assert (links[1][0].note, links[2][0].note) == ("counts", "left out")
    assert links[2][0].url == f"/bench/runs/{left_out.pk}/"


def test_the_runs_of_a_recipe_cost_one_query_however_many(run, record, weighed, noon, django_assert_num_queries):
    for later in range(1, 6):
        record(later=later)
    with django_assert_num_queries(1):
        assert len(CARD.revision_links(weighed.recipe)[1]) == 6


def test_choosing_among_many_measured_revisions_costs_no_more(run, record, weighed, noon):
    def count(number):
        newest = more_lentils(weighed, noon, 500, number=number)
        with CaptureQueriesContext(connection) as queries:
            CARD.collect(newest, at=noon)
        return len(queries)

    few = count(2)
    for number in range(3, 8):
        record(revision=more_lentils(weighed, noon, 300 + 50 * number, number=number), later=number)
    assert count(9) == few
