"""A recipe on the bench for tests, and the editor's form as a browser would send it."""

from __future__ import annotations

from decimal import Decimal
from html.parser import HTMLParser

from kitchen.domain.draft import DraftContent, DraftPart, DraftStep
from kitchen.operations import create_recipe, save_draft

POT = DraftContent(
    title="Red lentil pot",
    servings=6,
    summary="One pot, no flame.",
    tags=("pot", "autumn"),
    parts=(
        DraftPart("", ("250 g red lentils, rinsed", "2 onions, chopped")),
        DraftPart("To finish", ("1 lemon, juice",)),
    ),
    steps=(
        DraftStep("Brown the onions.", "brown", Decimal(9)),
        DraftStep("Add the rest and close the lid.", "come_up", Decimal("14.5"), Decimal(115)),
    ),
)


def write_pot(owner, at, *, draft=POT):
    """Return a recipe with its first revision written."""
    recipe = create_recipe(owner=owner, title=draft.title, servings=draft.servings, at=at)
    revision = recipe.revisions.get()
    save_draft(revision=revision, draft=draft, expected_version=revision.draft_version, at=at)
    recipe.refresh_from_db()
    return recipe


class _FormReader(HTMLParser):
    """Collects the fields of a page that no ``form`` attribute sends elsewhere, each with what stands in it."""

    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.fields, self.inside = {}, {"textarea": None, "select": None}

    def handle_starttag(self, tag, attrs):
        attrs = dict(attrs)
        if attrs.get("form"):
            return
        if tag == "input" and attrs.get("name") and attrs.get("type") not in ("checkbox", "radio", "file"):
            self.fields[attrs["name"]] = attrs.get("value") or ""
        if tag in self.inside:
            self.inside[tag] = attrs["name"]
            self.fields[attrs["name"]] = ""
        if tag == "option" and self.inside["select"] and "selected" in attrs:
            self.fields[self.inside["select"]] = attrs.get("value", "")

    def handle_endtag(self, tag):
        if tag in self.inside:
            self.inside[tag] = None

    def handle_data(self, data):
        if self.inside["textarea"]:
            self.fields[self.inside["textarea"]] += data


def form_fields(page_html):
    """Return the editor's form as a browser would fill it from the page."""
    reader = _FormReader()
    reader.feed(page_html)
    # A browser drops the first line end of a text area.
    return {name: value.removeprefix("\n") for name, value in reader.fields.items()}
