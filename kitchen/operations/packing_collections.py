"""Collections in an archive: their heads first, then with each recipe the places where it stands."""

from __future__ import annotations

from typing import Any

from kitchen.archivists import Archivist, Desk
from kitchen.collected import CollectedRecipe, Collection
from kitchen.domain import record
from kitchen.domain.archive import CollectionDocument, CollectionsDocument, Document, PlaceDocument, PlacesDocument
from kitchen.models import Recipe
from kitchen.operations.collections import free_address
from kitchen.operations.unpacked_rows import person_of, row_from, says_the_same
from kitchen.queries.packed import name_of

_PLACE = "apps/collections.json"


class CollectionsArchivist(Archivist):
    """Packs collections under the name ``collections``. One that is here already stays as it is."""

    slug = "collections"

    def pack(self) -> Document:
        """Return the head of every collection. One query."""
        rows = Collection.objects.select_related("owner").order_by("pk")
        heads = (record.taken(CollectionDocument, row, uid=str(row.uid), owner=name_of(row.owner)) for row in rows)
        held: Document = record.write(CollectionsDocument(tuple(heads)))
        return held

    def pack_recipe(self, recipe: Recipe) -> Document | None:
        """Return where a recipe stands, None where it stands in no collection. One query."""
        rows = recipe.collected.select_related("collection").order_by("collection", "position")
        places = tuple(PlaceDocument(str(row.collection.uid), row.position, row.servings) for row in rows)
        return record.write(PlacesDocument(places)) if places else None

    def unpack(self, held: Document, desk: Desk) -> dict[str, Collection]:
        """Add the collections that are not here, and return them by their uid."""
        added = {}
        for head in record.read(CollectionsDocument, held).collections:
            here = Collection.objects.filter(uid=head.uid).first()
            if here is None:
                added[head.uid] = _added(head, desk)
                continue
            desk.account.same["collections"] += 1
            if not says_the_same(here, head, {"uid", "slug", "owner"}):
                desk.account.said.append(f"The collection “{here.title}” is here already and differs: it stays as it is here.")
        return added

    def leave_recipe(self, held: Document, desk: Desk) -> None:
        """Count the places of a recipe that says something else here."""
        desk.account.left["places in collections"] += len(record.read(PlacesDocument, held).places)

    def unpack_recipe(self, held: Document, recipe: Recipe, brought: Any, desk: Desk) -> None:
        """Put a recipe into its places of the collections that were added."""
        for place in record.read(PlacesDocument, held).places:
            if place.collection in brought:
                row_from(CollectedRecipe, place, place=_PLACE, collection=brought[place.collection], recipe=recipe).save()


def _added(head: CollectionDocument, desk: Desk) -> Collection:
    row = row_from(Collection, head, place=_PLACE, owner=person_of(head.owner, desk) or desk.by)
    if Collection.objects.filter(slug=head.slug).exists():
        row.slug = free_address(head.title)
    row.save(force_insert=True)
    desk.account.added["collections"] += 1
    return row
