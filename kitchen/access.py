"""Fetch and check in one call: what may be read is returned, everything else is refused here."""

from __future__ import annotations

from django.http import Http404

from kitchen.models import Recipe
from kitchen.queries import recipe_at, slug_now


class Moved(Exception):  # noqa: N818
    """The recipe has another address now."""

    def __init__(self, slug: str) -> None:
        super().__init__(slug)
        self.slug = slug


class Gone(Exception):  # noqa: N818
    """The recipe was published once and then withdrawn."""


def published(slug: str) -> Recipe:
    """Return the published recipe at an address, with ``current_edition`` and ``first_published_at``.

    Raises
    ------
    Moved
        If the address is one that a recipe had before (answered 301).
    Gone
        If the recipe was withdrawn (answered 410).
    Http404
        If there is no such recipe, or it was never published.
    """
    recipe = recipe_at(slug)
    if recipe is None:
        now = slug_now(slug)
        if now is None:
            raise Http404("There is no recipe at this address.")
        raise Moved(now)
    if recipe.current_edition is None:
        raise Http404("There is no recipe at this address.")
    if recipe.withdrawn_at is not None:
        raise Gone(slug)
    return recipe
