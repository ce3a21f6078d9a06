"""A small kitchen made through the operations, for journeys that begin in the middle of the road."""

from __future__ import annotations

import datetime
from decimal import Decimal

from django.contrib.auth.models import User
from django.test import Client
from playwright.sync_api import Page

from energy.models import Appliance, Meter, PowerSource
from kitchen.domain.draft import DraftContent, DraftPart, DraftStep
from kitchen.models import Recipe
from kitchen.operations import create_recipe, open_draft, publish_recipe, save_draft

NOON = datetime.datetime(2026, 10, 14, 12, 0, tzinfo=datetime.UTC)


def write_pot(owner: User, *, published: bool = False) -> Recipe:
    """Write a recipe of two lines and two steps, and publish it if asked."""
    recipe = create_recipe(owner=owner, title="Lentil pot", servings=4, at=NOON)
    draft = DraftContent(
        title="Lentil pot",
        servings=4,
        parts=(DraftPart("", ("250 g red lentils", "2 onions, chopped")),),
        steps=(
            DraftStep("Brown the onions.", "brown", Decimal(10)),
            DraftStep("Add the lentils and hold them at the boil.", "hold", Decimal(15)),
        ),
    )
    revision = open_draft(recipe=recipe, by=owner, at=NOON)
    revision = save_draft(revision=revision, draft=draft, expected_version=revision.draft_version, at=NOON)
    if published:
        publish_recipe(recipe=recipe, revision=revision, by=owner, at=NOON)
    return recipe


def bring_gear() -> None:
    """Bring one appliance, one source and one meter."""
    Appliance.objects.create(name="Big pot", kind="pressure_cooker", rated_w=700)
    PowerSource.objects.create(name="House", kind="mains", volts=230, amps=13)
    Meter.objects.create(name="Plug meter", resolution_wh=1, accuracy_pct=1)


def sign_in(page: Page, person: User, address: str) -> None:
    """Give the browser a signed-in person's session."""
    client = Client()
    client.force_login(person)
    page.context.add_cookies([{"name": name, "value": kept.value, "url": address} for name, kept in client.cookies.items()])
