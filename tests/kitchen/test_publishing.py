"""Publishing: what is frozen, what is refused, what comes back."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.core.management import CommandError, call_command

from kitchen.models import Edition, Figure, Pairing
from kitchen.operations import CannotPublish, NothingChanged, publish_recipe, withdraw_recipe
from kitchen.operations.publishing import digest_of
from kitchen.queries import ShelfAsk, collect_facts, shelf
from tests.kitchen.stew import next_revision, write_stew


def test_an_edition_freezes_the_facts_and_locks_the_revision(stew, noon):
    edition = stew.current_edition
    assert (edition.number, edition.published_at, edition.note) == (1, noon, "First cooked in October.")
    assert edition.facts["recipe"]["parts"][0]["lines"][0]["low"] == "300/1"
    assert edition.facts["cards"] == {"tally": {"schema": 1, "wh": "240", "runs": 3}}
    assert edition.digest == digest_of(edition.facts)
    assert [line["key"] for line in edition.headlines] == ["wh", "minutes"]
    assert stew.revisions.get().locked_at == noon


def test_figures_are_kept_for_the_library(stew):
    kept = dict(Figure.objects.filter(recipe=stew).values_list("name", "value"))
    assert kept == {
        "energy_per_serving_wh": Decimal(40),
        "runs": Decimal(3),
        "total_min": Decimal("15.5"),
        "cooking_min": Decimal("15.5"),
    }


def test_a_published_figure_never_changes_by_itself(stew, tally):
    tally.tally = 999
    assert Edition.objects.get().facts["cards"]["tally"]["wh"] == "240"


def test_the_same_again_is_refused(stew, owner, noon):
    with pytest.raises(NothingChanged, match="edition 1"):
        publish_recipe(recipe=stew, revision=stew.revisions.get(), by=owner, at=noon + timedelta(days=1))
    assert stew.editions.count() == 1


def test_a_changed_figure_makes_the_next_edition_of_the_same_revision(stew, tally, owner, noon):
    tally.tally = 300
    later = publish_recipe(recipe=stew, revision=stew.revisions.get(), by=owner, at=noon + timedelta(days=1))
    assert later.number == 2
    assert Figure.objects.get(recipe=stew, name="energy_per_serving_wh").value == 50


def test_withdrawing_and_publishing_the_same_brings_the_edition_back(stew, owner, noon):
    withdraw_recipe(recipe=stew, at=noon)
    stew.refresh_from_db()
    assert stew.withdrawn_at == noon
    assert not shelf(ShelfAsk()).exists()
    back = publish_recipe(recipe=stew, revision=stew.revisions.get(), by=owner, at=noon + timedelta(days=1))
    stew.refresh_from_db()
    assert (back.number, stew.withdrawn_at, stew.editions.count()) == (1, None, 1)
    assert shelf(ShelfAsk()).exists()


def test_what_was_never_published_cannot_be_withdrawn(no_cards, owner, noon):
    recipe = write_stew(owner, noon)
    withdraw_recipe(recipe=recipe, at=noon)
    recipe.refresh_from_db()
    assert recipe.withdrawn_at is None


@pytest.mark.parametrize(("emptied", "words"), [("parts", "ingredient"), ("steps", "step")])
def test_a_recipe_without_ingredients_or_method_is_refused(no_cards, owner, noon, emptied, words):
    recipe = write_stew(owner, noon)
    revision = recipe.revisions.get()
    getattr(revision, emptied).all().delete()
    with pytest.raises(CannotPublish, match=words):
        publish_recipe(recipe=recipe, revision=revision, by=owner, at=noon)
    revision.refresh_from_db()
    assert (recipe.editions.count(), revision.locked_at) == (0, None)


def test_another_recipes_revision_is_refused(stew, owner, noon):
    other = write_stew(owner, noon, slug="other")
    with pytest.raises(CannotPublish, match="another recipe"):
        publish_recipe(recipe=stew, revision=other.revisions.get(), by=owner, at=noon)


def test_collecting_costs_no_more_with_more_lines(stew, noon, django_assert_num_queries, django_assert_max_num_queries):
    with django_assert_max_num_queries(10) as few:
        collect_facts(stew.revisions.get(), at=noon)
    part = stew.revisions.get().parts.first()
    for position in range(10, 20):
        part.lines.create(position=position, text=f"{position} g salt")
    with django_assert_num_queries(len(few)):
        facts = collect_facts(stew.revisions.get(), at=noon)
    assert len(facts["recipe"]["parts"][0]["lines"]) == 12


def test_a_private_side_is_named_nowhere(stew, owner, noon):
    side = write_stew(owner, noon, slug="flatbread", title="Secret flatbread")
    Pairing.objects.create(main=stew, side=side)
    assert collect_facts(stew.revisions.get(), at=noon)["recipe"]["sides"] == []
    publish_recipe(recipe=side, revision=side.revisions.get(), by=owner, at=noon)
    assert [side["slug"] for side in collect_facts(stew.revisions.get(), at=noon)["recipe"]["sides"]] == ["flatbread"]


def test_the_command_publishes_the_newest_revision(stew, noon, capsys):
    next_revision(stew, noon)
    call_command("publish", "stew", note="More lentils.")
    assert "edition 2" in capsys.readouterr().out
    assert stew.editions.get(number=2).facts["recipe"]["revision"] == 2
    call_command("publish", "stew")
    assert "nothing new" in capsys.readouterr().out


def test_the_command_names_what_it_does_not_know(stew):
    with pytest.raises(CommandError, match="nowhere"):
        call_command("publish", "stew", "nowhere")
    assert stew.editions.count() == 1
