"""Writing the public site into a folder: all of it or nothing, and only what changed is made again.

Every page is asked of the site as a stranger asks for it. What each recipe's files were made of is noted beside them: where that
is the same the next time, they are taken over as they lie there. The whole is made in a folder beside, checked, and put in place.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
import shutil
from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from django.conf import settings
from django.contrib.staticfiles import finders
from django.template.loader import render_to_string
from django.test import Client

from deploy.baking.pages import for_files, missing_links, written_as
from kitchen.models import Recipe
from kitchen.publish.codings import QUICK, by_brotli, by_gzip
from kitchen.publish.program import program_digest
from kitchen.queries import recipes_seen, the_site
from kitchen.queries.collections import collections_shown
from kitchen.queries.shown import day_by, recipe_shows, site_shows
from kitchen.views.public import PLATES_A_PAGE

NOTE = ".baked.json"
HOST = "127.0.0.1"
_TEXT = {".html", ".json", ".atom", ".csv", ".css", ".js", ".svg", ".xml"}
_LINKED = re.compile(rb"""url\(["']?([^)"']+)|(?:from|import)\s*["'](\./[^"']+)""")
SAID_EVERY = 50


class CannotBake(Exception):
    """Why nothing was written, in a sentence."""


@dataclass(frozen=True)
class Asked:
    """Where to write, the address of the kitchen that answers (empty where none does), and for how many servings besides."""

    out: Path
    site: str = ""
    servings: Sequence[int] = ()


@dataclass
class Baked:
    """What came of it."""

    recipes: int = 0
    made: int = 0
    files: dict[str, bytes] = field(default_factory=dict)
    kept: dict[str, Path] = field(default_factory=dict)
    note: dict[str, Any] = field(default_factory=dict)


def bake(asked: Asked, say: Callable[[str], None]) -> Baked:
    """Write the public site; raises CannotBake with a sentence, and then what lay there still lies there."""
    before = _note_of(asked.out)
    if not the_site().base_url:
        raise CannotBake("Pages and cards say where they stand: enter the public address under Settings on the bench first.")
    recipes = list(recipes_seen().select_related("current_edition").order_by("slug"))
    addresses = {recipe.slug: _addresses_of(recipe, asked.servings) for recipe in recipes}
    pages = max(1, -(-len(recipes) // PLATES_A_PAGE))
    general = ["/", *[f"/?page={number}" for number in range(1, pages + 1)], "/method/", "/feed.atom", *_of_collections()]
    written = {*general, *[one for found in addresses.values() for one in found]}
    client, baked = Client(raise_request_exception=False, headers={"host": HOST}), Baked(recipes=len(recipes))
    for number, recipe in enumerate(recipes, 1):
        made_of, old = _made_of(recipe, asked, addresses), before.get(recipe.slug, {})
        files = _taken_over(asked.out, old) if old.get("of") == made_of else None
        if files is None:
            fresh = _fetched(client, addresses[recipe.slug], written, asked)
            baked.files |= fresh
            baked.made += 1
            baked.note[recipe.slug] = {"of": made_of, "files": sorted(fresh), "linked": sorted(_linked_by(fresh))}
        else:
            baked.kept |= files
            baked.note[recipe.slug] = old
        if number % SAID_EVERY == 0 or number == len(recipes):
            say(f"{number} of {len(recipes)} recipes, {baked.made} made anew")
    baked.files |= _fetched(client, general, written, asked, search=render_to_string("deploy/baked-search.html"))
    baked.files["search.json"] = _search_index(recipes)
    linked = {name for told in baked.note.values() for name in told["linked"]}
    baked.kept |= _linked_files(linked | _linked_by(baked.files))
    _check(baked)
    _put_in_place(baked, asked.out)
    return baked


def _made_of(recipe: Recipe, asked: Asked, addresses: Collection[str]) -> str:
    """Return a digest of all that a recipe's files are made of: beside itself, which of its sides have a page."""
    sides = [side.get("slug") for side in _facts_of(recipe).get("sides", ())]
    around = (asked.site, asked.servings, [side for side in sides if side in addresses])
    site = site_shows()
    made_of = (around, recipe_shows(recipe.slug), site, program_digest(), f"{day_by(site)}")
    return hashlib.sha256(repr(made_of).encode()).hexdigest()


def _facts_of(recipe: Recipe) -> dict[str, Any]:
    return dict(recipe.current_edition.facts["recipe"]) if recipe.current_edition else {}


def _note_of(out: Path) -> dict[str, Any]:
    """Return what the last bake noted; raises CannotBake where a folder with something else lies there."""
    if not out.exists() or (out.is_dir() and not any(out.iterdir())):
        return {}
    try:
        told = json.loads((out / NOTE).read_text("utf-8"))
        return dict(told["files"])
    except (OSError, ValueError, KeyError, TypeError):
        raise CannotBake(
            f"{out} holds something that was not baked here. Name a folder that is empty or not there yet."
        ) from None


def _of_collections() -> list[str]:
    """Return the addresses of the collections that readers see."""
    slugs = [one.slug for one in collections_shown()]
    each = (f"/c/{slug}{rest}" for slug in slugs for rest in ("/", ".json", "/feed.atom", "/one-file.html"))
    return ["/c/", "/library.json", *each]


def _addresses_of(recipe: Recipe, servings: Sequence[int]) -> list[str]:
    """Return the addresses of a recipe that are written, also those that may answer that there is nothing."""
    page = f"/r/{recipe.slug}/"
    numbers = [row[2] for row in recipe_shows(recipe.slug) if row[1] != row[6]]
    sizes = [f"{page}for-{number}/" for number in servings]
    cards = [f"{page}card.pdf?size=a6", *[f"{page}card.pdf?size=a6&for={number}" for number in servings]]
    older = [f"{page}editions/{number}/" for number in numbers]
    return [
        page,
        *sizes,
        *cards,
        f"{page}editions/",
        *older,
        f"{page}runs/",
        f"{page}runs.csv",
        f"{page}card.png",
        *[f"{page}{name}.{kind}" for name in ("strip", "ladder") for kind in ("svg", "png")],
        f"{page}one-file.html",
        f"/r/{recipe.slug}.json",
    ]


def _fetched(client: Client, addresses: Iterable[str], written: set[str], asked: Asked, *, search: str = "") -> dict[str, bytes]:
    """Return the files for so many addresses; what answers that nothing is there has none, and its links go."""
    found, bodies = {}, {}
    for address in addresses:
        answer = client.get(address, secure=True)
        if answer.status_code in (302, 404):
            written.discard(address)
        elif answer.status_code != 200:
            raise CannotBake(f"{address} answered {answer.status_code}, so nothing was written. Does the page open in a browser?")
        else:
            bodies[address] = answer.content
    for address, body in bodies.items():
        name, shelf = written_as(address), search if address.partition("?")[0] == "/" else ""
        found[name] = (
            for_files(body.decode(), address, written, site=asked.site, search=shelf).encode() if _is_page(name) else body
        )
    return found


def _is_page(name: str) -> bool:
    return name.endswith(".html")


def _is_text(name: str) -> bool:
    return Path(name).suffix in _TEXT


def _taken_over(out: Path, old: dict[str, Any]) -> dict[str, Path] | None:
    """Return a recipe's files as they lie there, or None where one of them is gone."""
    found = {name: out / name for name in old.get("files", ())}
    return found if found and all(path.is_file() for path in found.values()) else None


def _search_index(recipes: list[Recipe]) -> bytes:
    """Return each recipe's title, place and words."""
    told = []
    for recipe in recipes:
        facts = _facts_of(recipe)
        lines = [line.get("name") or "" for part in facts.get("parts", ()) for line in part.get("lines", ())]
        words = " ".join([facts.get("title", ""), facts.get("summary", ""), *facts.get("tags", ()), *lines]).lower()
        told.append({"title": facts.get("title", recipe.slug), "at": f"r/{recipe.slug}/", "words": words})
    return json.dumps(told, ensure_ascii=False).encode()


def _linked_by(files: dict[str, bytes]) -> set[str]:
    """Return the styles, scripts, fonts, pictures and photos that pages link."""
    pages = [body for name, body in files.items() if _is_page(name)]
    return {told.decode() for body in pages for told in re.findall(rb"(?<![\w-])(?:static|photos)/[^\s\"',)]+", body)}


def _linked_files(names: set[str]) -> dict[str, Path]:
    """Return where they lie, with those that a style or a script links in turn."""
    waiting, found = set(names), {}
    while waiting:
        name = waiting.pop()
        kind, _, rest = name.partition("/")
        path = Path(settings.STATIC_ROOT if kind == "static" else settings.MEDIA_ROOT) / rest
        if kind == "static" and not path.is_file():
            path = Path(str(finders.find(rest) or path))
        if name in found or not path.is_file():
            continue
        found[name] = path
        if path.suffix in (".css", ".js"):
            linked = [one or other for one, other in _LINKED.findall(path.read_bytes())]
            waiting |= {os.path.normpath(f"{Path(name).parent}/{told.decode()}") for told in linked if b":" not in told}
    return found


def _check(baked: Baked) -> None:
    """Refuse a copy in which a link of a page that was made now leads to no file."""
    files = {*baked.files, *baked.kept}
    for name in filter(_is_page, sorted(baked.files)):
        if missing := missing_links(baked.files[name].decode(), name, files):
            raise CannotBake(f"{name} would link to {missing[0]}, which is not there. Nothing was written.")


def _put_in_place(baked: Baked, out: Path) -> None:
    """Write everything beside, with what is compressed, then put it where the last one lies."""
    out.parent.mkdir(parents=True, exist_ok=True)
    coming, going = (out.with_name(f".{out.name}.{word}") for word in ("coming", "going"))
    for left in (coming, going):
        shutil.rmtree(left, ignore_errors=True)
    for name, path in baked.kept.items():
        for suffix in ("", ".gz", ".br"):
            source = path.with_name(path.name + suffix)
            if source.is_file():
                _link(source, coming / f"{name}{suffix}", own=out in path.parents)
    for name, body in baked.files.items():
        place = coming / name
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(body)
        if _is_text(name):
            place.with_name(f"{place.name}.gz").write_bytes(by_gzip(body))
            if shorter := by_brotli(body, "text/", QUICK):
                place.with_name(f"{place.name}.br").write_bytes(shorter)
    (coming / NOTE).write_text(json.dumps({"files": baked.note}), "utf-8")
    if out.exists():
        out.rename(going)
    coming.rename(out)
    shutil.rmtree(going, ignore_errors=True)


def _link(source: Path, place: Path, *, own: bool) -> None:
    """Let a file of the last copy lie in the new one too, or copy one of the kitchen's."""
    place.parent.mkdir(parents=True, exist_ok=True)
    if own:
        try:
            os.link(source, place)
        except OSError:  # a disk without second names
            shutil.copyfile(source, place)
    else:
        shutil.copyfile(source, place)
