"""Unpacking an archive: what is not here yet is added, what is here stays as it is, and every difference is told in a sentence.

Everything happens in one transaction or not at all. A look beforehand takes the same road and turns back at its end, so that it
says exactly what would happen.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.exceptions import ValidationError
from django.db import DataError, IntegrityError, transaction

from kitchen.archivists import Account, ArchiveRefused, Desk, archivists
from kitchen.domain import record
from kitchen.domain.archive import FoodsDocument, RecipeDocument, SiteDocument
from kitchen.importers.archive import Archive
from kitchen.models import Recipe, Site
from kitchen.operations.photos import write_files
from kitchen.operations.unpacked_rows import row_from
from kitchen.operations.unpacking_editions import add_editions, head_differs, settle
from kitchen.operations.unpacking_foods import Larder
from kitchen.operations.unpacking_recipes import (
    add_photos,
    add_revisions,
    begin_recipe,
    link_made,
    new_addresses,
    pair_sides,
    what_differs,
)
from kitchen.publish.photos import is_plain_photo
from kitchen.queries import the_site
from kitchen.queries.packed import photo_files, site_document

Begun = dict[str, tuple[int, bool]]


def unpack_library(
    *, archive: Archive, by: Any, at: datetime, check: bool = False, words: bool = False, cooks: Mapping[str, Any] | None = None
) -> Account:
    """Add what the archive holds and this kitchen does not, and return the account.

    Parameters
    ----------
    by : User
        Who unpacks: the recipes of cooks who are not named in ``cooks`` are theirs.
    cooks : mapping of str to User, optional
        Which accounts here the names of the archive mean.
    check : bool
        Only look: the account says what would happen, and nothing is written.
    words : bool
        Take over the kitchen's name, currency and measures even where this kitchen has its own.

    Raises
    ------
    ArchiveRefused
        If anything in the archive makes no sense; nothing is written then.
    """
    archive.verify()
    written: list[str] = []
    try:
        with _in_plain_words(), transaction.atomic():
            account = _Unpacking(archive, by, at, written, cooks or {}, check=check).run(words=words)
            if check:
                transaction.set_rollback(True)
    except BaseException:
        for name in written:
            (Path(settings.MEDIA_ROOT) / name).unlink(missing_ok=True)
        raise
    return account


def owners_in(archive: Archive) -> dict[str, int]:
    """Return whose recipes an archive holds: how many of each name, in the order of the names.

    Raises
    ------
    ArchiveRefused
        If a recipe of it makes no sense.
    """
    counts = Counter(archive.record(name, RecipeDocument).owner for name in archive.names("recipes/"))
    return {name: counts[name] for name in sorted(counts) if name}


@contextmanager
def _in_plain_words() -> Iterator[None]:
    try:
        yield
    except ArchiveRefused:
        raise
    except record.UnreadableRecord as error:
        raise ArchiveRefused(f"{error}. Nothing was written.") from error
    except ValidationError as error:
        raise ArchiveRefused(f"The archive holds a value that makes no sense: {' '.join(error.messages)}") from error
    except (DataError, IntegrityError, OverflowError) as error:
        raise ArchiveRefused("The archive holds values that do not fit together. Nothing was written.") from error


class _Unpacking:
    """One archive on its way into the tables."""

    def __init__(
        self, archive: Archive, by: Any, at: datetime, written: list[str], cooks: Mapping[str, Any], *, check: bool
    ) -> None:
        self.archive, self.written, self.check = archive, written, check
        self.account = Account()
        self.larder = Larder(self.account)
        self.desk = Desk(by, at, self.account, self.larder.find, not Recipe.objects.exists(), cooks)
        self.addresses: dict[str, str] = {}
        self.brought: dict[str, Any] = {}

    def run(self, *, words: bool) -> Account:
        self._take_words(words)
        self.larder.add(self.archive.record("foods.json", FoodsDocument).foods if "foods.json" in self.archive else ())
        for archivist in archivists():
            if f"apps/{archivist.slug}.json" in self.archive:
                held = self.archive.document(f"apps/{archivist.slug}.json")
                self.brought[archivist.slug] = archivist.unpack(held, self.desk)
        self._name_unknown_apps()
        self._name_what_was_left_out()
        begun = self._begin_all()
        agreeing = [uid for uid in begun if self._fill(uid, *begun[uid])]
        for uid in agreeing:
            recipe, document = Recipe.objects.get(pk=begun[uid][0]), self._document(uid)
            pair_sides(recipe, document, self.desk)
            link_made(recipe, document, self.desk)
        return self.account

    def _take_words(self, wanted: bool) -> None:
        if "site.json" not in self.archive:
            return
        packed, here = self.archive.record("site.json", SiteDocument), the_site()
        unnamed = here.name == Site._meta.get_field("name").get_default()
        if site_document() == packed:
            return
        if wanted or (self.desk.fresh and unnamed):
            checked = row_from(Site, packed, place="site.json", pk=1)
            Site.objects.update_or_create(pk=1, defaults={name: getattr(checked, name) for name in vars(packed)})
            self.account.added["site words"] += 1
        else:
            self.account.said.append(
                f"The archive is of “{packed.name}”. This kitchen keeps its own name, currency and measures."
            )

    def _name_unknown_apps(self) -> None:
        known = {f"apps/{archivist.slug}.json" for archivist in archivists()}
        for name in self.archive.names("apps/"):
            if name.count("/") == 1 and name not in known:
                app = name.removeprefix("apps/").removesuffix(".json")
                self.account.said.append(f"This kitchen has no app called “{app}”, so what the archive holds of it is left out.")

    def _name_what_was_left_out(self) -> None:
        for kind, count in sorted(self.archive.manifest.left_out.items()):
            self.account.said.append(f"The archive was packed without {count:,} {kind}.")

    def _document(self, uid: str) -> RecipeDocument:
        return self.archive.record(f"recipes/{uid}.json", RecipeDocument)

    def _begin_all(self) -> Begun:
        """Give every recipe its head first, so that addresses and sides are known before anything names them."""
        begun: Begun = {}
        for name in self.archive.names("recipes/"):
            document = self.archive.record(name, RecipeDocument)
            if name != f"recipes/{document.uid}.json":
                raise ArchiveRefused(f"{name} holds another recipe than its name says. Nothing was written.")
            recipe, new = begin_recipe(document, self.desk)
            self.addresses |= new_addresses(recipe, document)
            begun[document.uid] = (recipe.pk, new)
        return begun

    def _fill(self, uid: str, number: int, new: bool) -> bool:
        """Add what is new in a recipe; False where it is here and says something else, and so is left as it is."""
        document = self._document(uid)
        recipe = Recipe.objects.select_related("current_edition").get(pk=number)
        differing = "" if new else what_differs(recipe, document, self.addresses)
        if differing:
            self.account.said.append(
                f"{document.title} is here already, and its {differing} says something else here than in the archive. "
                "Yours stays; the archive’s is left out."
            )
            self._leave(uid, document)
            return False
        before = sum(self.account.added.values())
        photos = add_photos(recipe, document, self._bring_files(document), self.desk)
        add_revisions(recipe, document, photos, self.desk)
        add_editions(recipe, document, self.addresses, self.desk)
        settle(recipe, document, new=new)
        self._unpack_apps(uid, recipe)
        self._account_for(recipe, document, new, grown=sum(self.account.added.values()) > before)
        return True

    def _leave(self, uid: str, document: RecipeDocument) -> None:
        counts = {"recipes": 1, "revisions": len(document.revisions), "editions": len(document.editions)}
        self.account.left.update({**counts, "photos": len(document.photos)})
        for archivist in archivists():
            if f"apps/{archivist.slug}/{uid}.json" in self.archive:
                archivist.leave_recipe(self.archive.document(f"apps/{archivist.slug}/{uid}.json"), self.desk)

    def _unpack_apps(self, uid: str, recipe: Recipe) -> None:
        for archivist in archivists():
            name = f"apps/{archivist.slug}/{uid}.json"
            if name in self.archive and archivist.slug in self.brought:
                archivist.unpack_recipe(self.archive.document(name), recipe, self.brought[archivist.slug], self.desk)

    def _account_for(self, recipe: Recipe, document: RecipeDocument, new: bool, *, grown: bool) -> None:
        if new:
            return
        self.account.same["recipes"] += not grown
        if grown:
            self.account.said.append(f"{recipe.title} is here already; what the archive has beyond it was added.")
            if head_differs(recipe, document):
                self.account.said.append(
                    f"{recipe.title}: title, summary, tags, allergens and own cautions stay as they are here."
                )

    def _bring_files(self, document: RecipeDocument) -> dict[str, bool]:
        """Put the recipe's photo files into their folder, and return which of those it mentions are there."""
        there = {}
        for name in photo_files(document):
            path = Path(settings.MEDIA_ROOT) / name
            packed = f"photos/{name}" in self.archive
            if packed and not path.exists():
                content = self.archive.file(f"photos/{name}")
                if not is_plain_photo(content, name):
                    raise ArchiveRefused(f"photos/{name} is not a photo as this program makes them. Nothing was written.")
                if not self.check:
                    self.written.append(name)
                    write_files({name: content})
            there[name] = packed or path.exists()
        return there
