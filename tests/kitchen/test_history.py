"""A recipe's history: its list, two revisions beside each other, going back and taking that back, why a revision was made."""

import datetime
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from kitchen.cards import BenchLink, Card, register
from kitchen.domain.draft import DraftPart, DraftStep
from kitchen.domain.reading import LineReading
from kitchen.models import Line
from kitchen.operations import (
    CannotTakeBack,
    DraftClash,
    NothingToGoBack,
    Seen,
    correct_line,
    go_back,
    keep_typed,
    lock_revision,
    publish_recipe,
    save_page,
    say_why,
    take_back,
)
from kitchen.queries import draft_of, newest_revision, recipe_history, revision_with_rows
from tests.kitchen.desk import POT, form_fields, write_pot

pytestmark = pytest.mark.django_db

STRONGER = replace(
    POT,
    parts=(DraftPart("", ("350 g red lentils, rinsed", "2 onions, chopped")), POT.parts[1]),
    steps=(POT.steps[0], DraftStep("Add the rest and close the lid.", "come_up", Decimal(18), Decimal(115)), DraftStep("Rest.")),
    note="Too thin last time.",
)


def seen(recipe):
    newest = newest_revision(recipe)
    return Seen(newest.number, newest.draft_version)


def lock(recipe, at):
    lock_revision(revision=newest_revision(recipe), at=at)


@pytest.fixture
def pot(owner, noon):
    """A recipe of three revisions: cooked, cooked again stronger, and one being written."""
    pot = write_pot(owner, noon)
    line = Line.objects.get(text="2 onions, chopped")
    correct_line(line=line, reading=LineReading(low=Fraction(5, 2), high=Fraction(5, 2), name="onion"), by=owner, at=noon)
    lock(pot, noon)
    save_page(recipe=pot, by=owner, draft=STRONGER, seen=seen(pot), at=noon)
    lock(pot, noon)
    save_page(recipe=pot, by=owner, draft=replace(STRONGER, servings=8, note=""), seen=seen(pot), at=noon)
    return pot


def at(pot, *rest):
    return f"/bench/recipes/{pot.slug}/revisions/" + "".join(f"{part}/" for part in rest)


class RunsCard(Card):
    slug, title = "runs", "Runs"

    def collect(self, revision, *, at):
        return None

    def revision_links(self, recipe):
        return {1: [BenchLink("measured 12 May 2026, 213 Wh", "/bench/runs/7/", "counts")]}


def test_the_list_tells_who_when_why_which_runs_and_which_editions(pot, owner, owner_client, noon, no_cards):
    register(RunsCard())
    publish_recipe(recipe=pot, revision=pot.revisions.get(number=2), by=owner, at=noon)
    html = owner_client.get(at(pot)).content.decode()
    first, second, third = (html.index(f'id="revision-{number}"') for number in (1, 2, 3))
    assert third < second < first
    assert "being written" in html[third:second]
    assert "Too thin last time." in html[second:first]
    assert "Published as edition 1" in html[second:first]
    assert "“250 g red lentils, rinsed” became “350 g red lentils, rinsed”." in html[second:first]
    assert "owner" in html[first:]
    assert '<a href="/bench/runs/7/">measured 12 May 2026, 213 Wh</a> <span class="note">counts</span>' in html[first:]


def test_the_list_costs_no_more_with_ten_more_revisions(pot, owner, owner_client, noon):
    def count():
        with CaptureQueriesContext(connection) as queries:
            assert owner_client.get(at(pot)).status_code == 200
        return len(queries)

    few = count()
    for servings in range(10, 20):
        lock(pot, noon)
        save_page(recipe=pot, by=owner, draft=replace(STRONGER, servings=servings), seen=seen(pot), at=noon)
    assert count() == few


def test_only_those_who_may_edit_see_it(pot, other_client, stranger_client):
    for address in (at(pot), at(pot, 1, 2), at(pot, 1, "back"), at(pot, 1, "note")):
        assert other_client.get(address).status_code == 404
        assert stranger_client.get(address).status_code == 302
    for address in (at(pot, 1, "back"), at(pot, 3, "undo"), at(pot, 1, "note")):
        assert other_client.post(address, {"note": "x"}).status_code == 404
    assert pot.revisions.count() == 3


def test_two_revisions_stand_beside_each_other_with_words(pot, owner_client):
    html = owner_client.get(at(pot, 1, 2)).content.decode()
    assert "red lentils 250 g → 350 g" in html
    assert "come up 14.5 min → 18 min" in html
    assert "onion 2½ → 2" not in html  # the corrected reading went along
    assert html.count("not there") == 1
    assert "2 onions, chopped" in html
    only = owner_client.get(at(pot, 1, 2) + "?only=1").content.decode()
    assert "2 onions, chopped" not in only
    assert "servings 8 → 6" in owner_client.get(at(pot, 3, 1)).content.decode()
    assert "Both say the same." in owner_client.get(at(pot, 2, 2)).content.decode()
    assert owner_client.get(at(pot, 1, 9)).status_code == 404
    assert owner_client.get(at(pot, 1, 10**30)).status_code == 404


def test_two_are_chosen_by_a_plain_form(pot, owner_client):
    answer = owner_client.get(at(pot), {"before": "1", "after": "3"})
    assert answer.headers["Location"] == at(pot, 1, 3)
    html = owner_client.get(at(pot), {"before": "9", "after": "x"}).content.decode()
    assert html.count("This recipe has no such revision.") == 2


def test_going_back_asks_says_what_becomes_of_the_draft_and_copies_everything(pot, owner, owner_client, noon):
    keep_typed(recipe=pot, fields={"title": "", "step-0-text": "half a thou"}, seen=seen(pot), at=noon)
    html = owner_client.get(at(pot, 1, "back")).content.decode()
    assert "Revision 3 is still being written. It is not lost" in html
    assert "Serves 6 instead of 8." in html
    answer = owner_client.post(at(pot, 1, "back"), form_fields(html))
    assert answer.headers["Location"] == at(pot)
    newest = newest_revision(pot)
    assert (newest.number, newest.copied_from, newest.note, newest.locked_at) == (4, 1, "As revision 1.", None)
    assert (newest.servings, draft_of(newest).parts, draft_of(newest).steps) == (6, POT.parts, POT.steps)
    onion = Line.objects.get(part__revision=newest, text="2 onions, chopped")
    assert (onion.low, onion.corrected) == (Fraction(5, 2), True)
    third = revision_with_rows(pot.revisions.get(number=3).pk)
    assert (third.servings, third.typed["fields"]["step-0-text"]) == (8, "half a thou")
    rows = recipe_history(pot)
    assert [(row.state, row.copied_from) for row in rows] == [("written", 1), ("aside", None), ("locked", None), ("locked", None)]
    assert "Copied from" in owner_client.get(at(pot)).content.decode()


def test_going_back_is_taken_back(pot, owner, owner_client, noon):
    go_back(recipe=pot, number=2, seen=seen(pot), by=owner, at=noon)
    assert "Undo: take revision 4 away again" in owner_client.get(at(pot)).content.decode()
    answer = owner_client.post(at(pot, 4, "undo"), follow=True)
    assert "revision 3 is the newest again" in answer.content.decode()
    assert newest_revision(pot).servings == 8
    assert pot.revisions.count() == 3


def test_what_was_written_since_is_not_taken_away(pot, owner, owner_client, noon):
    go_back(recipe=pot, number=1, seen=seen(pot), by=owner, at=noon)
    save_page(recipe=pot, by=owner, draft=replace(POT, servings=3), seen=seen(pot), at=noon)
    with pytest.raises(CannotTakeBack):
        take_back(recipe=pot, number=4, at=noon)
    answer = owner_client.post(at(pot, 4, "undo"), follow=True)
    assert "Revision 4 stays" in answer.content.decode()
    for number in (1, 3):
        with pytest.raises(CannotTakeBack):
            take_back(recipe=pot, number=number, at=noon)
    assert pot.revisions.count() == 4


def test_a_revision_that_was_simply_opened_is_never_taken_away(pot, owner, noon):
    with pytest.raises(CannotTakeBack):
        take_back(recipe=pot, number=3, at=noon)


def test_nothing_is_done_where_somebody_wrote_after_the_question(pot, owner, owner_client, noon):
    fields = form_fields(owner_client.get(at(pot, 1, "back")).content.decode())
    save_page(recipe=pot, by=owner, draft=replace(STRONGER, servings=9), seen=seen(pot), at=noon)
    answer = owner_client.post(at(pot, 1, "back"), fields)
    assert "Nothing was done: somebody wrote" in answer.content.decode()
    assert pot.revisions.count() == 3
    with pytest.raises(DraftClash):
        go_back(recipe=pot, number=1, seen=Seen(3, 99), by=owner, at=noon)


def test_the_newest_is_the_newest_already(pot, owner, owner_client, noon):
    with pytest.raises(NothingToGoBack):
        go_back(recipe=pot, number=3, seen=seen(pot), by=owner, at=noon)
    assert "is the newest already" in owner_client.get(at(pot, 3, "back")).content.decode()
    posted = {"number": "x", "version": "1" * 400}
    assert owner_client.post(at(pot, 1, "back"), posted).status_code == 200
    assert pot.revisions.count() == 3


def test_why_is_said_later_also_of_what_is_locked(pot, owner_client, noon):
    before = pot.revisions.get(number=1)
    answer = owner_client.post(at(pot, 1, "note"), {"note": "As my neighbour cooks it."})
    assert answer.headers["Location"] == at(pot)
    first = pot.revisions.get(number=1)
    assert (first.note, first.draft_version, first.locked_at) == ("As my neighbour cooks it.", before.draft_version, noon)
    html = owner_client.post(at(pot, 1, "note"), {"note": "x" * 301}).content.decode()
    assert "at most 300 characters" in html
    assert "x" * 301 in html


def test_a_note_on_the_open_draft_is_not_put_back_by_an_open_page(pot, owner, noon):
    before = seen(pot)
    say_why(revision=newest_revision(pot), note="Hungrier.", at=noon + datetime.timedelta(hours=1))
    with pytest.raises(DraftClash):
        save_page(recipe=pot, by=owner, draft=replace(STRONGER, servings=9), seen=before, at=noon)
    assert newest_revision(pot).note == "Hungrier."


def test_publishing_after_going_back_says_that_only_the_revision_is_another(pot, owner, owner_client, noon, no_cards):
    publish_recipe(recipe=pot, revision=newest_revision(pot), by=owner, at=noon)
    go_back(recipe=pot, number=2, seen=seen(pot), by=owner, at=noon)
    go_back(recipe=pot, number=3, seen=seen(pot), by=owner, at=noon)
    page = owner_client.get(reverse("kitchen:recipe-publish", args=[pot.slug])).content.decode()
    assert "It is made of revision 5 now. Readers see the same words and figures." in page
