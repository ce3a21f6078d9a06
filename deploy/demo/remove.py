"""Taking the example kitchen away again: exactly what it made, and nothing that somebody built on top of it."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field

from django.contrib.auth.models import User
from django.db import models, transaction
from django.db.models import ProtectedError

from costing.models import Item
from deploy.demo.files import read_files
from deploy.demo.ledger import Ledger
from energy.models import Tariff
from kitchen.collected import Collection
from kitchen.models import Recipe, Site

_GEAR = [
    "costing.quote",
    "costing.yield",
    "costing.shop",
    "energy.appliance",
    "energy.powersource",
    "energy.meter",
    "energy.tariff",
    "auth.user",
]


class NotLoaded(Exception):
    """There is no example in the database."""


@dataclass
class Removal:
    """How many rows of each kind went, and in words what stayed and why."""

    gone: Counter[str] = field(default_factory=Counter)
    stayed: list[str] = field(default_factory=list)


@transaction.atomic
def remove_demo() -> Removal:
    """Remove what the example made. A recipe that somebody changed or cooked stays, and so does gear that is still in use.

    Raises
    ------
    NotLoaded
        If the example is not there.
    """
    ledger = Ledger.kept()
    if not ledger.rows:
        raise NotLoaded
    removal = Removal()
    _remove_collections(ledger, removal)
    _remove_recipes(ledger, removal)
    for label in _GEAR:
        for row in ledger.noted(label):
            _remove_row(ledger, removal, label, row)
    Item.objects.filter(quotes=None, brand="", state="", gives=[]).delete()  # those that nobody described, and nothing prices
    _undress_site()
    for label in [label for label in ledger.rows if not ledger.noted(label)]:
        del ledger.rows[label]
    ledger.keep()
    return removal


def _remove_collections(ledger: Ledger, removal: Removal) -> None:
    made = set(map(int, ledger.keys("kitchen.recipe")))
    for collection in Collection.objects.filter(pk__in=ledger.keys("kitchen.collection")):
        if collection.updated_at != collection.published_at or not made.issuperset(
            collection.dishes.values_list("recipe", flat=True)
        ):
            removal.stayed.append(f"The collection “{collection}” stays: you changed it.")
            continue
        ledger.forget("kitchen.collection", collection.pk)
        collection.delete()
        removal.gone["collection"] += 1


def _remove_recipes(ledger: Ledger, removal: Removal) -> None:
    for recipe in ledger.noted("kitchen.recipe"):
        assert isinstance(recipe, Recipe)
        why = _built_upon(ledger, recipe)
        if why:
            removal.stayed.append(f"The recipe “{recipe}” stays: {why}.")
            continue
        for revision in recipe.revisions.all():
            removal.gone["run"] += revision.runs.count()
            revision.runs.all().delete()
        Recipe.objects.filter(pk=recipe.pk).update(current_edition=None)
        recipe.editions.all().delete()
        key = recipe.pk
        recipe.delete()
        ledger.forget("kitchen.recipe", key)
        removal.gone["recipe"] += 1


def _built_upon(ledger: Ledger, recipe: Recipe) -> str:
    """Return in words what somebody added to an example recipe, or nothing."""
    revisions, editions, runs = (ledger.keys(f"{label}") for label in ("kitchen.revision", "kitchen.edition", "energy.run"))
    if recipe.revisions.exclude(pk__in=revisions).exists():
        return "it has a revision of yours"
    if recipe.editions.exclude(pk__in=editions).exists():
        return "you published an edition of it"
    if recipe.revisions.filter(runs__isnull=False).exclude(runs__pk__in=runs).exists():
        return "you recorded a cook of it"
    if recipe.served_with.exclude(pk__in=ledger.keys("kitchen.pairing")).exists():
        return "you serve it with a recipe of yours"
    if recipe.collected.exists():
        return "it is in a collection of yours"
    return "it has photos of yours" if recipe.photos.exists() else ""


def _remove_row(ledger: Ledger, removal: Removal, label: str, row: models.Model) -> None:
    """Remove one row of gear, unless something that stays still points to it."""
    key = row.pk
    if _is_in_use(row):
        removal.stayed.append(f"{str(row)[:1].upper()}{str(row)[1:]} stays: it is still in use.")
        return
    try:
        with transaction.atomic():
            row.delete()
    except ProtectedError:
        removal.stayed.append(f"{row} stays: it is still in use.")
        return
    ledger.forget(label, key)
    removal.gone[label.split(".")[1]] += 1


def _is_in_use(row: models.Model) -> bool:
    """Whether a row that stays would lose something by this row's going (a null where there was a name)."""
    if isinstance(row, User):
        return row.is_superuser or row.recipes.exists() or row.runs.exists()
    return isinstance(row, Tariff) and row.sources.exists()


def _undress_site() -> None:
    """Give the kitchen its plain name back, unless somebody chose another since."""
    worn = read_files().kitchen["site"]
    plain = {name: getattr(Site(), name) for name in worn}
    Site.objects.filter(pk=1, name=worn["name"]).update(**plain)
