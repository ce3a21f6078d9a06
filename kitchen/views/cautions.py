"""The cautions of a recipe on the bench: what its lines call for, and what the cook says."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from kitchen.cards import CardRequest
from kitchen.forms.cautions import AskedLine, CautionsForm
from kitchen.models import Recipe, Revision
from kitchen.operations import DraftClash, say_cautions
from kitchen.page import Page, present_page, read_facts
from kitchen.queries import collect_facts, newest_revision
from kitchen.views.doors import of_recipe


@never_cache
@of_recipe
@require_http_methods(["GET", "HEAD", "POST"])
def recipe_cautions(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """What the newest revision calls for, and the cook's word. Address ``/bench/recipes/<slug>/cautions/``; its owner.

    A reason without an answer, and an answer without the reason that it needs, are said beside their fields.
    """
    revision = newest_revision(recipe)
    page = _page(revision)
    form = CautionsForm(request.POST or None, asked=_asked(revision, page), own=recipe.own_cautions)
    if request.method == "POST" and form.is_valid():
        try:
            own = form.cleaned_data["own"]
            say_cautions(recipe=recipe, answers=form.answers(), own=own, by=request.user, at=timezone.now())
        except DraftClash:
            messages.error(request, "Nothing was changed: a line was rewritten meanwhile. Answer it as it stands now.")
            return redirect("kitchen:recipe-cautions", recipe.slug)
        messages.success(request, "Saved. Readers see it with the next edition.")
        return redirect("kitchen:recipe-bench", recipe.slug)
    return render(request, "kitchen/bench/cautions.html", {"recipe": recipe, "form": form, "page": page})


def _page(revision: Revision) -> Page:
    facts = read_facts(collect_facts(revision, at=timezone.now()))
    return present_page(facts, CardRequest(revision.servings, revision.servings))


def _asked(revision: Revision, page: Page) -> list[AskedLine]:
    """Return the lines that call for a caution which may be answered, with the sentences."""
    called: dict[str, list[str]] = {}
    for caution in page.cautions:
        for words in (*caution.lines, *(words for words, _ in caution.answered)) if caution.answerable else ():
            called.setdefault(words, []).append(caution.words)
    lines = (line for part in revision.parts.all() for line in part.lines.all())
    named = ((line, line.name or line.text) for line in lines)
    return [AskedLine(line, tuple(dict.fromkeys(called[name]))) for line, name in named if name in called]
