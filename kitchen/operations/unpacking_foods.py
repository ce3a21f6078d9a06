"""Unpacking foods: those that cooks added or changed elsewhere, and finding the food that a document means."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields

from kitchen.archivists import Account
from kitchen.domain.archive import FoodDocument, FoodLink
from kitchen.models import Food
from kitchen.operations.foods import load_reference_foods
from kitchen.operations.unpacked_rows import keep_named, row_from, says_the_same


class Larder:
    """Which food here each link of the archive means."""

    def __init__(self, account: Account) -> None:
        """Begin with the foods that are here."""
        self._account = account
        self._table_is_here = False
        self._own: dict[str, Food] = {}
        self._known: dict[FoodLink, Food | None] = {}

    def add(self, documents: Iterable[FoodDocument]) -> None:
        """Add the cooks' own foods first, so that they keep their names, then how cooks changed those of the reference table."""
        for document in sorted(documents, key=lambda document: document.sr_number is not None):
            if document.sr_number is None:
                self._add_own(document)
            else:
                self._add_changed(document)

    def _add_own(self, document: FoodDocument) -> None:
        food = keep_named(Food, document, self._account, kind="foods", place=f"foods.json, {document.name}")
        if not food.kept_by_cook:
            Food.objects.filter(pk=food.pk).update(kept_by_cook=True)
        self._own[document.name] = food

    def _add_changed(self, document: FoodDocument) -> None:
        place = f"foods.json, {document.name}"
        here = self._numbered(document.sr_number)
        if here is not None:
            self._change(here, document, place)
        elif Food.objects.filter(name=document.name).exists():
            self._account.said.append(f"{document.name}: the food here of this name is kept, the archive’s is left out.")
        else:
            row_from(Food, document, place=place, kept_by_cook=True).save()
            self._account.added["foods"] += 1

    def find(self, link: FoodLink) -> Food | None:
        """Return the food that is meant, by its reference number, else by its name; None where there is none."""
        if link not in self._known:
            numbered = self._numbered(link.sr_number)
            own = self._own.get(link.name) if link.sr_number is None else None
            self._known[link] = numbered or own or Food.objects.filter(name=link.name).first()
        return self._known[link]

    def _numbered(self, sr_number: int | None) -> Food | None:
        """Return the food of this number; the reference table is loaded at the first one, where the kitchen has none."""
        if sr_number is None:
            return None
        if not self._table_is_here:
            self._table_is_here = True
            if not Food.objects.filter(sr_number__isnull=False).exists():
                load_reference_foods()
        return Food.objects.filter(sr_number=sr_number).first()

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
