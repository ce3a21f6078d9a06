"""What boils off of a simmering liquid: proposed to the cook, kept with the line, followed by the page."""

from decimal import Decimal

import pytest

from kitchen.domain.draft import DraftContent, DraftPart, DraftStep
from kitchen.models import Line
from kitchen.operations import create_recipe, open_draft, publish_recipe, save_draft


@pytest.fixture
def broth(owner, noon):
    """A litre of water and a carrot, boiled down for ten minutes."""
    recipe = create_recipe(owner=owner, title="Broth", servings=4, at=noon)
    steps = (DraftStep("Boil it down.", "reduce", Decimal(10)),)
    draft = DraftContent(title="Broth", servings=4, parts=(DraftPart("", ("1 L water", "1 carrot, diced")),), steps=steps)
    revision = open_draft(recipe=recipe, by=owner, at=noon)
    save_draft(revision=revision, draft=draft, expected_version=revision.draft_version, at=noon)
    return recipe


def address(line: Line) -> str:
    return f"/bench/recipes/broth/edit/lines/{line.pk}/"


def corrected(client, line: Line, **typed: str):
    said = {"low": "1", "unit": "L", "name": "water", "rule": "simmer"} | typed
    return client.post(address(line), {f"line-{line.pk}-{name}": value for name, value in said.items()})


def test_the_loss_is_proposed_from_the_minutes_of_the_open_steps(broth, owner_client):
    page = owner_client.get(address(Line.objects.get(text="1 L water"))).content.decode()
    assert "By the steps, about 250 mL." in page
    assert "evaporated_ml" not in owner_client.get(address(Line.objects.get(text="1 carrot, diced"))).content.decode()


def test_the_loss_is_kept_and_the_scaled_page_follows_it(broth, owner, owner_client, stranger_client, noon):
    line = Line.objects.get(text="1 L water")
    assert corrected(owner_client, line, evaporated_ml="250").status_code == 302
    line.refresh_from_db()
    assert (line.rule, line.evaporated_ml) == ("simmer", 250)
    publish_recipe(recipe=broth, revision=line.part.revision, by=owner, at=noon)
    assert "1.75 L" in stranger_client.get("/r/broth/for-8/").content.decode().replace("\u00a0", " ")
    lidded = stranger_client.get("/r/broth/for-8/", {"vessel": "20"}).content.decode().replace("\u00a0", " ")
    assert "2 L" in lidded, "under a lid next to nothing boils off"


def test_another_rule_forgets_the_loss(broth, owner_client):
    line = Line.objects.get(text="1 L water")
    corrected(owner_client, line, evaporated_ml="250")
    corrected(owner_client, line, evaporated_ml="250", rule="proportional")
    line.refresh_from_db()
    assert (line.rule, line.evaporated_ml) == ("proportional", None)


@pytest.mark.parametrize("typed", ["lots", "-1", "1e9"])
def test_a_loss_that_makes_no_sense_is_said(broth, owner_client, typed):
    line = Line.objects.get(text="1 L water")
    answer = corrected(owner_client, line, evaporated_ml=typed)
    assert answer.status_code == 200
    assert "a number" in answer.content.decode().lower()
    line.refresh_from_db()
    assert not line.corrected


def test_strangers_and_other_cooks_do_not_get_there(broth, other_client, stranger_client):
    line = Line.objects.get(text="1 L water")
    for client in (other_client, stranger_client):
        corrected(client, line, evaporated_ml="250")
        line.refresh_from_db()
        assert line.evaporated_ml is None
