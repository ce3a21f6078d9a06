"""The example kitchen: it loads whole, it is plausible, and it goes away without a trace."""

import datetime
import io
from collections import Counter

import pytest
from django.apps import apps
from django.contrib.auth.models import User
from django.core.management import CommandError, call_command
from django.test import TestCase

from deploy.demo.load import AlreadyLoaded, load_demo
from deploy.demo.remove import NotLoaded, remove_demo
from energy.models import Appliance, PowerSource, Run
from kitchen.models import Edition, Food, Line, Pairing, Recipe, Revision, Site
from kitchen.operations import create_recipe, load_reference_foods, lock_revision, open_draft

pytestmark = pytest.mark.django_db

NOON = datetime.datetime(2026, 10, 14, 12, 0, tzinfo=datetime.UTC)


def rows() -> Counter:
    """Count the rows of every table of ours, and the people."""
    tables = [model for model in apps.get_models() if model._meta.app_label in {"kitchen", "energy", "costing"}]
    people = apps.get_model("auth.User")
    return Counter({model._meta.label: model._default_manager.count() for model in [*tables, people]})


class TheExampleTests(TestCase):
    """The loaded example; loaded once, each test undoes what it did."""

    @classmethod
    def setUpTestData(cls):
        load_reference_foods()
        cls.made = load_demo()

    def test_the_example_shows_the_breadth_of_the_job(self):
        assert self.made["recipe"] >= 8
        assert len({run.appliance.kind for run in Run.objects.select_related("appliance")}) >= 7
        assert PowerSource.objects.filter(kind="battery_station").count() == 2
        assert PowerSource.objects.filter(kind="hook_up").count() == 1
        assert Pairing.objects.count() == 1
        for recipe in Recipe.objects.all():
            assert Run.objects.filter(revision__recipe=recipe).count() >= 2, recipe

    def test_one_cook_was_logged_at_the_run_desk_with_moments_and_a_pause(self):
        run = Run.objects.get(events__kind="begin")
        assert run.revision.recipe.slug == "cocoa-for-the-cold-hours"
        assert run.moments.count() == 2
        assert len(run.pauses) == 1
        assert run.summary["energy_wh"] == 131
        assert {reading.origin for reading in run.readings.all()} == {"desk"}

    def test_one_recipe_has_a_newer_revision_that_is_not_published(self):
        newer = [
            recipe.slug
            for recipe in Recipe.objects.select_related("current_edition__revision")
            if recipe.revisions.order_by("-number").first() != recipe.current_edition.revision
        ]
        assert newer == ["apple-oat-porridge"]

    def test_one_bad_run_is_flagged_and_left_out_and_the_rest_are_plausible(self):
        flagged = [run for run in Run.objects.all() if run.flags]
        assert [run.verdict for run in flagged] == ["left_out"]
        assert flagged[0].flags[0]["code"] == "counter_fell"
        assert flagged[0].verdict_reason

    def test_every_line_of_the_example_is_read_and_linked_to_a_food(self):
        assert Line.objects.count() > 80
        assert [line.text for line in Line.objects.filter(food=None)] == []
        unread = Line.objects.filter(low=None).exclude(to_taste=True).exclude(text__endswith="for serving")
        assert [line.text for line in unread] == []

    def test_every_edition_carries_energy_and_cost(self):
        for edition in Edition.objects.all():
            assert set(edition.facts["cards"]) >= {"energy", "cost"}, edition
            assert [headline["tone"] for headline in edition.headlines].count("energy") >= 2

    def test_what_somebody_built_on_the_example_stays(self):
        owner = User.objects.create_superuser("owner", password="pot-lid-spoon")
        mine = create_recipe(owner=owner, title="Mine", at=NOON)
        kettle = Appliance.objects.get(kind="kettle")
        other = Run.objects.filter(appliance=kettle).first()
        own_run = Run.objects.create(
            revision=Revision.objects.get(recipe=mine),
            appliance=kettle,
            source=other.source,
            meter=other.meter,
            started_at=NOON,
            servings=2,
            recorded_at=NOON,
        )
        porridge = Recipe.objects.get(slug="apple-oat-porridge")
        lock_revision(revision=porridge.revisions.first(), at=NOON)
        open_draft(recipe=porridge, by=owner, at=NOON)
        removal = remove_demo()
        assert list(Recipe.objects.values_list("slug", flat=True)) == ["apple-oat-porridge", "mine"]
        assert Run.objects.get(pk=own_run.pk).appliance == kettle
        assert any("porridge" in sentence and "revision of yours" in sentence for sentence in removal.stayed)
        assert any("kettle" in sentence and "in use" in sentence for sentence in removal.stayed)

    def test_a_second_removal_takes_what_is_free_by_then(self):
        owner = User.objects.create_superuser("owner", password="pot-lid-spoon")
        porridge = Recipe.objects.get(slug="apple-oat-porridge")
        lock_revision(revision=porridge.revisions.first(), at=NOON)
        added = open_draft(recipe=porridge, by=owner, at=NOON)
        remove_demo()
        added.delete()
        assert remove_demo().stayed == []
        assert not Recipe.objects.exists()

    def test_loading_twice_or_removing_nothing_says_so(self):
        with pytest.raises(AlreadyLoaded):
            load_demo()
        remove_demo()
        with pytest.raises(NotLoaded):
            remove_demo()
        with pytest.raises(CommandError, match="no example to take away"):
            call_command("demo", "--remove")

    def test_the_example_dates_are_in_the_past(self):
        newest = max(run.started_at for run in Run.objects.all())
        assert newest < datetime.datetime(2026, 11, 1, tzinfo=datetime.UTC)


def test_removing_takes_away_exactly_what_was_made(db):
    load_reference_foods()
    Site.objects.get_or_create(pk=1)
    before, words = rows(), Site.objects.values().get()
    load_demo()
    assert rows() != before
    removal = remove_demo()
    assert rows() == before
    assert removal.stayed == []
    assert Site.objects.values().get() == words


def test_a_kitchen_with_a_name_keeps_it(db):
    load_reference_foods()
    Site.objects.update_or_create(pk=1, defaults={"name": "Ours"})
    load_demo()
    assert Site.objects.get().name == "Ours"
    remove_demo()
    assert Site.objects.get().name == "Ours"


def test_the_command_says_what_came_and_went(db):
    load_reference_foods()
    said = io.StringIO()
    call_command("demo", stdout=said)
    call_command("demo", "--remove", stdout=said)
    assert "9 recipes" in said.getvalue()
    assert "Taken away" in said.getvalue()
    assert Food.objects.count() > 400
