"""Drafts, the lock, corrections: what is written and what never is."""

import datetime
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from kitchen.access import line_for_bench
from kitchen.domain.draft import DraftPart, DraftStep
from kitchen.domain.reading import LineReading
from kitchen.models import Food, Line, Part, Recipe, Revision, Step
from kitchen.operations import (
    DraftClash,
    RevisionLocked,
    Seen,
    bring_back_recipe,
    correct_line,
    create_recipe,
    forget_typed,
    keep_typed,
    lock_revision,
    note_clash,
    open_draft,
    read_line_again,
    save_draft,
    save_page,
    withdraw_recipe,
)
from kitchen.queries import draft_of, newest_revision
from tests.kitchen.desk import POT, write_pot

pytestmark = pytest.mark.django_db


@pytest.fixture
def pot(owner, noon):
    return write_pot(owner, noon)


def lines_of(revision):
    return list(Line.objects.filter(part__revision=revision).order_by("part__position", "position"))


def seen(recipe):
    newest = newest_revision(recipe)
    return Seen(newest.number, newest.draft_version)


def test_a_draft_comes_back_as_it_was_saved(pot):
    assert draft_of(newest_revision(pot)) == POT


def test_saving_the_same_again_writes_nothing(pot, noon):
    revision = newest_revision(pot)
    later = noon + datetime.timedelta(hours=1)
    saved = save_draft(revision=revision, draft=POT, expected_version=revision.draft_version, at=later)
    pot.refresh_from_db()
    assert saved.draft_version == revision.draft_version
    assert pot.updated_at == noon


def test_lines_are_read_and_find_their_food(owner, noon):
    lentils = Food.objects.create(name="red lentils")
    line = lines_of(newest_revision(write_pot(owner, noon)))[0]
    assert (line.low, line.unit, line.name, line.note, line.food) == (Fraction(250), "g", "red lentils", "rinsed", lentils)


def test_an_older_version_overwrites_nothing(pot, noon):
    revision = newest_revision(pot)
    save_draft(revision=revision, draft=replace(POT, servings=8), expected_version=revision.draft_version, at=noon)
    with pytest.raises(DraftClash):
        save_draft(revision=revision, draft=replace(POT, servings=2), expected_version=revision.draft_version, at=noon)
    assert newest_revision(pot).servings == 8


def test_a_correction_survives_for_as_long_as_the_text_is_the_same(pot, owner, noon):
    rice = Food.objects.create(name="rice")
    line = lines_of(newest_revision(pot))[1]
    reading = LineReading(low=Fraction(5, 2), high=Fraction(5, 2), unit="", name="onion", rule="fixed", food=rice)
    correct_line(line=line, reading=reading, by=owner, at=noon)
    moved = replace(POT, parts=(DraftPart("", ("2 onions, chopped", "1 egg", "250 g red lentils, rinsed")),))
    save_page(recipe=pot, by=owner, draft=moved, seen=seen(pot), at=noon)
    kept = lines_of(newest_revision(pot))[0]
    assert (kept.pk, kept.low, kept.rule, kept.food, kept.corrected) == (line.pk, Fraction(5, 2), "fixed", rice, True)
    other = replace(POT, parts=(DraftPart("", ("3 onions, chopped",)),))
    save_page(recipe=pot, by=owner, draft=other, seen=seen(pot), at=noon)
    assert [(line.low, line.corrected) for line in lines_of(newest_revision(pot))] == [(Fraction(3), False)]


def test_a_correction_moves_the_version_on_so_that_an_open_page_is_not_overwritten(pot, owner, noon):
    before = seen(pot)
    correct_line(line=lines_of(newest_revision(pot))[0], reading=LineReading(name="lentils"), by=owner, at=noon)
    with pytest.raises(DraftClash):
        save_page(recipe=pot, by=owner, draft=replace(POT, servings=2), seen=before, at=noon)


def test_a_correction_never_lands_on_the_line_that_took_its_place(pot, owner, noon):
    stale = line_for_bench(pot, lines_of(newest_revision(pot))[0].pk)
    moved = replace(POT, parts=(DraftPart("", ("1 egg", stale.text)),))
    save_page(recipe=pot, by=owner, draft=moved, seen=seen(pot), at=noon)
    correct_line(line=stale, reading=LineReading(name="lentils"), by=owner, at=noon)
    assert [line.name for line in lines_of(newest_revision(pot))] == ["egg", "lentils"]
    gone = replace(POT, parts=(DraftPart("", ("1 egg", "2 eggs")),))
    save_page(recipe=pot, by=owner, draft=gone, seen=seen(pot), at=noon)
    with pytest.raises(DraftClash):
        correct_line(line=stale, reading=LineReading(name="beans"), by=owner, at=noon)
    assert [line.name for line in lines_of(newest_revision(pot))] == ["egg", "eggs"]


def test_a_line_can_be_read_again_from_its_text(pot, owner, noon):
    line = correct_line(line=lines_of(newest_revision(pot))[0], reading=LineReading(name="x"), by=owner, at=noon)
    again = read_line_again(line=line, by=owner, at=noon)
    assert (again.low, again.name, again.corrected) == (Fraction(250), "red lentils", False)


def test_locked_rows_never_change_and_the_next_save_opens_a_copy(pot, owner, noon):
    first = newest_revision(pot)
    correct_line(line=lines_of(first)[0], reading=LineReading(name="mine", rule="fixed"), by=owner, at=noon)
    lock_revision(revision=first, at=noon)
    lock_revision(revision=first, at=noon + datetime.timedelta(days=1))
    first.refresh_from_db()
    assert first.locked_at == noon
    with pytest.raises(RevisionLocked):
        save_draft(revision=first, draft=replace(POT, servings=2), expected_version=first.draft_version, at=noon)
    saved = save_page(recipe=pot, by=owner, draft=replace(POT, servings=8, note="hungrier"), seen=seen(pot), at=noon)
    assert (saved.opened, saved.revision.number, saved.revision.servings, saved.revision.note) == (True, 2, 8, "hungrier")
    assert [line.corrected for line in lines_of(saved.revision)] == [True, False, False]
    first.refresh_from_db()
    assert (first.servings, len(lines_of(first)), first.steps.count()) == (6, 3, 2)


def test_a_title_alone_opens_no_revision(pot, owner, noon):
    lock_revision(revision=newest_revision(pot), at=noon)
    saved = save_page(recipe=pot, by=owner, draft=replace(POT, title="Lentil pot"), seen=seen(pot), at=noon)
    pot.refresh_from_db()
    assert (pot.title, saved.changed, saved.opened, pot.revisions.count()) == ("Lentil pot", True, False, 1)


def test_nothing_new_over_a_locked_revision_opens_nothing(pot, owner, noon):
    lock_revision(revision=newest_revision(pot), at=noon)
    saved = save_page(recipe=pot, by=owner, draft=POT, seen=seen(pot), at=noon)
    assert (saved.changed, pot.revisions.count()) == (False, 1)


def test_correcting_over_a_locked_revision_corrects_the_copy(pot, owner, noon):
    first = newest_revision(pot)
    lock_revision(revision=first, at=noon)
    line = lines_of(first)[0]
    corrected = correct_line(line=line, reading=LineReading(name="lentils"), by=owner, at=noon)
    line.refresh_from_db()
    assert (corrected.part.revision.number, corrected.name, line.name) == (2, "lentils", "red lentils")
    with pytest.raises(DraftClash):
        correct_line(line=line, reading=LineReading(name="old"), by=owner, at=noon)


def test_open_draft_returns_the_open_one(pot, owner, noon):
    assert open_draft(recipe=pot, by=owner, at=noon).number == 1
    assert pot.revisions.count() == 1


def test_what_cannot_be_saved_is_kept_as_typed_and_the_rows_stay(pot, owner, noon):
    assert keep_typed(recipe=pot, fields={"title": "", "step-0-text": "🍋"}, seen=seen(pot), at=noon)
    kept = newest_revision(pot)
    assert kept.typed["fields"] == {"title": "", "step-0-text": "🍋"}
    assert draft_of(kept) == POT
    save_page(recipe=pot, by=owner, draft=replace(POT, servings=7), seen=seen(pot), at=noon)
    assert newest_revision(pot).typed == {}


def test_typed_text_can_be_thrown_away_and_has_a_limit(pot, noon):
    assert not keep_typed(recipe=pot, fields={"title": "x" * 1_000_001}, seen=seen(pot), at=noon)
    assert newest_revision(pot).typed == {}
    keep_typed(recipe=pot, fields={"title": ""}, seen=seen(pot), at=noon)
    forget_typed(recipe=pot)
    assert newest_revision(pot).typed == {}


def test_typed_text_of_an_older_page_is_not_kept_over_a_newer_one(pot, noon):
    with pytest.raises(DraftClash):
        keep_typed(recipe=pot, fields={"title": ""}, seen=Seen(1, 99), at=noon)


def test_whoever_saves_next_hears_of_a_clash(pot, owner, noon):
    note_clash(recipe=pot, who="other", at=noon)
    saved = save_page(recipe=pot, by=owner, draft=replace(POT, servings=7), seen=seen(pot), at=noon)
    assert saved.clash["who"] == "other"
    again = save_page(recipe=pot, by=owner, draft=replace(POT, servings=8), seen=seen(pot), at=noon)
    assert again.clash is None


def test_slugs_are_free_short_and_never_a_word_of_the_site(owner, noon):
    titles = ["Soup", "Soup", "New", "حساء العدس", "🍲", "long " * 40]
    slugs = [create_recipe(owner=owner, title=title[:120], at=noon).slug for title in titles]
    assert slugs[:5] == ["soup", "soup-2", "new-2", "recipe", "recipe-2"]
    assert len(slugs[5]) <= 80


def test_the_same_attempt_makes_one_recipe(owner, noon):
    first = create_recipe(owner=owner, title="Soup", once="abc", at=noon)
    revision = newest_revision(first)
    save_draft(revision=revision, draft=POT, expected_version=revision.draft_version, at=noon)
    assert create_recipe(owner=owner, title="Soup", once="abc", at=noon) == first
    assert create_recipe(owner=owner, title="Soup", once="abd", at=noon) != first


def test_strange_text_is_saved_whole(owner, noon):
    strange = ("🍋 something bright", "ملح حسب الذوق", f"{'9' * 50} g flour", "x" * 300)
    recipe = write_pot(owner, noon, draft=replace(POT, parts=(DraftPart("", strange),), steps=(DraftStep("\u200fקמח 🥖"),)))
    assert draft_of(newest_revision(recipe)).parts[0].lines == strange


def test_saving_takes_as_many_queries_for_two_hundred_lines_as_for_two(pot, owner, noon):
    def count(draft):
        with CaptureQueriesContext(connection) as queries:
            save_page(recipe=pot, by=owner, draft=draft, seen=seen(pot), at=noon)
        return len(queries)

    few = count(replace(POT, parts=(DraftPart("", ("1 egg",)),), steps=(DraftStep("Boil it."),)))
    lines = tuple(f"{number} g flour" for number in range(1, 101))
    many = count(replace(POT, parts=(DraftPart("", lines), DraftPart("b", lines)), steps=(DraftStep("Stir."),) * 80))
    # Rows are written in batches of as many as the engine takes in one statement, so a few statements more; not one a row.
    assert many - few <= 6


def test_deleting_and_withdrawing_leave_no_loose_rows(stew, noon):
    withdraw_recipe(recipe=stew, at=noon)
    bring_back_recipe(recipe=stew, at=noon)
    stew.refresh_from_db()
    assert stew.withdrawn_at is None


def test_minutes_keep_their_tenth(pot):
    assert [step.minutes for step in Step.objects.filter(revision__recipe=pot)] == [Decimal("9.0"), Decimal("14.5")]
    assert Part.objects.count() == 2
    assert Recipe.objects.count() == Revision.objects.count() == 1
