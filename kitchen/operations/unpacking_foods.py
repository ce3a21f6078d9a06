"""Unpacking foods: those that cooks added or changed elsewhere, and finding the food that a document means."""

from __future__ import annotations

from dataclasses import fields

from kitchen.archivists import Account
from kitchen.domain.archive import FoodDocument, FoodLink
from kitchen.models import Food
from kitchen.operations.foods import load_reference_foods
from kitchen.operations.unpacked_rows import keep_named, row_from, says_the_same


class Larder:
    """Which food here each link of the archive means."""

    def __init__(self, account: Account) -> None:
        """Begin with the reference foods, loaded first where the kitchen has none."""
        self._account = account
        if not Food.objects.filter(sr_number__isnull=False).exists():
            load_reference_foods()
        self._own: dict[str, Food] = {}
        self._known: dict[FoodLink, Food | None] = {}

    def add(self, document: FoodDocument) -> None:
        """Add a cook's own food, or take over how a cook changed one of the reference table."""
        place = f"foods.json, {document.name}"
        if document.sr_number is None:
            food = keep_named(Food, document, self._account, kind="foods", place=place)
            if not food.kept_by_cook:
                Food.objects.filter(pk=food.pk).update(kept_by_cook=True)
            self._own[document.name] = food
            return
        here = Food.objects.filter(sr_number=document.sr_number).first()
        if here is None and Food.objects.filter(name=document.name).exists():
            self._account.said.append(f"{document.name}: the food here of this name is kept, the archive’s is left out.")
        elif here is None:
            row_from(Food, document, place=place, kept_by_cook=True).save()
            self._account.added["foods"] += 1
        else:
            self._change(here, document, place)

    def find(self, link: FoodLink) -> Food | None:
        """Return the food that is meant, by its reference number, else by its name; None where there is none."""
        if link not in self._known:
            numbered = None if link.sr_number is None else Food.objects.filter(sr_number=link.sr_number).first()
            own = self._own.get(link.name) if link.sr_number is None else None
            self._known[link] = numbered or own or Food.objects.filter(name=link.name).first()
        return self._known[link]

    def _change(self, here: Food, document: FoodDocument, place: str) -> None:
        if says_the_same(here, document):
            self._account.same["foods"] += 1
            return
        if here.kept_by_cook:
            self._account.said.append(f"{here.name} was changed here and in the archive; this kitchen’s values are kept.")
            return
        if here.name != document.name and Food.objects.filter(name=document.name).exists():
            self._account.said.append(f"{document.name}: another food here has this name, so {here.name} stays as it is.")
            return
        changed = row_from(Food, document, place=place, kept_by_cook=True, pk=here.pk)
        Food.objects.filter(pk=here.pk).update(
            kept_by_cook=True, **{field.name: getattr(changed, field.name) for field in fields(document)}
        )
        self._account.added["foods"] += 1
