"""Unpacking one recipe: its rows as they were elsewhere, or what is new in it where the recipe is here already."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from kitchen.archivists import Desk
from kitchen.domain.archive import PhotoDocument, RecipeDocument, RevisionDocument, readdressed, same_dish
from kitchen.domain.pictures import stem_of
from kitchen.models import Edition, Line, Pairing, Part, PastSlug, Photo, Recipe, Revision, Step
from kitchen.operations.editing import RESERVED_SLUGS, free_slug
from kitchen.operations.publishing import digest_of
from kitchen.operations.unpacked_rows import person_of, refused, row_from
from kitchen.queries.packed import revision_document


def begin_recipe(document: RecipeDocument, desk: Desk) -> tuple[Recipe, bool]:
    """Return the recipe of this uid and whether it is new here; a new one gets its head, and a free address."""
    here = Recipe.objects.filter(uid=document.uid).first()
    if here is not None:
        return here, False
    place = f"recipes/{document.uid}.json"
    slug = document.slug if _is_free(document.slug) else free_slug(document.slug)
    if slug != document.slug:
        desk.account.said.append(f"{document.title}: the address “{document.slug}” is taken here, so it gets “{slug}”.")
    recipe = row_from(Recipe, document, place=place, owner=person_of(document.owner, desk) or desk.by, withdrawn_at=None)
    recipe.slug = slug
    recipe.save(force_insert=True)
    for past in dict.fromkeys(document.past_slugs):
        if past != slug and _is_free(past):
            row_from(PastSlug, _PastAddress(past), place=place, recipe=recipe).save()
    desk.account.added["recipes"] += 1
    return recipe, True


class _PastAddress:
    """An address that a recipe had before, as a document."""

    def __init__(self, slug: str) -> None:
        self.slug = slug


def _is_free(slug: str) -> bool:
    taken = Recipe.objects.filter(slug=slug).exists() or PastSlug.objects.filter(slug=slug).exists()
    return not taken and slug not in RESERVED_SLUGS


def new_addresses(recipe: Recipe, document: RecipeDocument) -> dict[str, str]:
    """Return which of the recipe's addresses lead elsewhere here, and the one that leads to it."""
    here = {recipe.slug, *recipe.past_slugs.values_list("slug", flat=True)}
    return {slug: recipe.slug for slug in (document.slug, *document.past_slugs) if slug not in here}


def what_differs(recipe: Recipe, document: RecipeDocument, addresses: Mapping[str, str]) -> str:
    """Return in words where a recipe that is here says something else than the archive, or nothing where both agree.

    What only one of them has is no difference.
    """
    packed = {revision.number: revision for revision in document.revisions}
    for revision in recipe.revisions.filter(number__in=packed).prefetch_related(
        "parts__lines__food", "parts__lines__made_of__recipe", "steps__photo"
    ):
        if not same_dish(revision_document(revision), packed[revision.number]):
            return f"revision {revision.number}"
    digests = dict(recipe.editions.values_list("number", "digest"))
    for edition in document.editions:
        known = digests.get(edition.number)
        if known is not None and known not in (edition.digest, digest_of(readdressed(edition.facts, dict(addresses)))):
            return f"edition {edition.number}"
    return ""


def add_photos(recipe: Recipe, document: RecipeDocument, has_file: Mapping[str, bool], desk: Desk) -> dict[str, Photo]:
    """Add the photos that are new, and return all of the recipe's by digest; one whose files are nowhere is left out."""
    here = {photo.digest: photo for photo in recipe.photos.all()}
    for photo in document.photos:
        _refuse_strange_names(photo, document)
        if photo.digest in here:
            desk.account.same["photos"] += 1
        elif not (has_file.get(photo.wide) and has_file.get(photo.small)):
            desk.account.said.append(f"{document.title}: the files of the photo “{photo.alt}” are missing, so it is left out.")
            desk.account.left["photos"] += 1
        else:
            leads = photo.leads and not any(other.leads for other in here.values())
            row = row_from(Photo, photo, place=f"recipes/{document.uid}.json", recipe=recipe, leads=leads)
            row.crops = {name: size for name, size in row.crops.items() if has_file.get(name)}
            row.save()
            here[photo.digest] = row
            desk.account.added["photos"] += 1
    return here


def _refuse_strange_names(photo: PhotoDocument, document: RecipeDocument) -> None:
    names = [photo.wide, photo.small, *photo.crops]
    if any(not name.startswith(f"{stem_of(photo.digest)}-") for name in names) or len(photo.digest) != 64:
        raise refused(f"recipes/{document.uid}.json", f"the photo “{photo.alt}” names files that are not its own")
    if any(len(size) != 2 or not all(0 < side < 20_000 for side in size) for size in photo.crops.values()):
        raise refused(f"recipes/{document.uid}.json", f"the photo “{photo.alt}” has crops of no size")


def add_revisions(recipe: Recipe, document: RecipeDocument, photos: Mapping[str, Photo], desk: Desk) -> int:
    """Add the revisions that are new here, and return how many; a draft below a newer revision is locked."""
    here = dict(recipe.revisions.values_list("number", "locked_at"))
    new = [revision for revision in document.revisions if revision.number not in here]
    for revision in new:
        _add_revision(recipe, revision, photos, desk, f"recipes/{document.uid}.json, revision {revision.number}")
    for revision in document.revisions:
        if revision.number in here and here[revision.number] is None and revision.locked_at is not None:
            Revision.objects.filter(recipe=recipe, number=revision.number).update(locked_at=revision.locked_at)
    if new:
        _lock_older(recipe, desk.at)
    desk.account.added["revisions"] += len(new)
    desk.account.same["revisions"] += len(document.revisions) - len(new)
    return len(new)


def _lock_older(recipe: Recipe, at: datetime) -> None:
    newest = recipe.revisions.order_by("-number").values_list("number", flat=True)[0]
    recipe.revisions.filter(locked_at=None, number__lt=newest).update(locked_at=at)


def _add_revision(recipe: Recipe, document: RevisionDocument, photos: Mapping[str, Photo], desk: Desk, place: str) -> None:
    writer = person_of(document.created_by, desk)
    revision = row_from(Revision, document, place=place, recipe=recipe, created_by=writer)
    revision.save()
    parts = [row_from(Part, part, place=place, revision=revision, position=at) for at, part in enumerate(document.parts)]
    Part.objects.bulk_create(parts)
    lines = []
    for row, part in zip(parts, document.parts, strict=True):
        for at, line in enumerate(part.lines):
            food = None if line.food is None else desk.food(line.food)
            if food is None and line.food is not None:
                desk.account.said.append(f"{recipe.title}: no food here is called “{line.food.name}”, so “{line.text}” has none.")
            lines.append(row_from(Line, line, place=place, part=row, position=at, food=food))
    Line.objects.bulk_create(lines)
    Step.objects.bulk_create(
        row_from(Step, step, place=place, revision=revision, position=at, photo=photos.get(step.photo or ""))
        for at, step in enumerate(document.steps)
    )


def link_made(recipe: Recipe, document: RecipeDocument, desk: Desk) -> None:
    """Let the lines be made by the recipes that made them, where nothing else does here; one that is not here is named."""
    for revision in document.revisions:
        for place, part in enumerate(revision.parts):
            for at, line in enumerate(part.lines):
                if line.made_by is None:
                    continue
                made = Edition.objects.filter(recipe__uid=line.made_by.uid, number=line.made_by.edition).first()
                rows = Line.objects.filter(part__revision__recipe=recipe, part__revision__number=revision.number, made_of=None)
                if made is None:
                    told = (
                        f"edition {line.made_by.edition} of “{line.made_by.title}”, by which “{line.text}” is made, is not here."
                    )
                    desk.account.said.append(f"{document.title}: {told}")
                else:
                    same = rows.filter(part__position=place, position=at, text=line.text)
                    same.update(made_of=made, made_now=line.made_by.now, food=None, sure=None)


def pair_sides(recipe: Recipe, document: RecipeDocument, desk: Desk) -> None:
    """Serve the recipe with its sides again; one that is not here is named."""
    place = f"recipes/{document.uid}.json"
    for packed in document.sides:
        side = None if packed.uid == document.uid else Recipe.objects.filter(uid=packed.uid).first()
        if side is None:
            desk.account.said.append(f"{document.title}: “{packed.title}”, which is served with it, is not here.")
        elif Pairing.objects.filter(main=recipe, side=side).exists():
            desk.account.same["sides"] += 1
        else:
            row_from(Pairing, packed, place=place, main=recipe, side=side).save()
            desk.account.added["sides"] += 1
