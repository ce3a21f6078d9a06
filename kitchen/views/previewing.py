"""What other programs get of a recipe, shown to its cook, with what is missing."""

from __future__ import annotations

import json

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from kitchen.access import is_out
from kitchen.forms.elsewhere import ElsewhereForm
from kitchen.models import Recipe
from kitchen.operations.elsewhere import ELSEWHERE, say_elsewhere
from kitchen.operations.publishing import page_as_written
from kitchen.page import PageFrame, read_facts
from kitchen.publish.gaps import gaps_in
from kitchen.publish.jsonld import recipe_linked
from kitchen.publish.sharing import pictures_of
from kitchen.queries import collect_facts, newest_revision, the_site
from kitchen.views.doors import of_recipe
from kitchen.views.framing import frame_of, photo_root


@never_cache
@of_recipe
@require_http_methods(["GET", "HEAD", "POST"])
def recipe_machines(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """What search engines and blogs get, and what is missing. Address ``/bench/recipes/<slug>/machines/``; its owner.

    A post sets the recipe's home and its film; what cannot be read is said beside its field (400). Of a
    published recipe it shows the edition that readers see, of any other the newest revision as it stands.
    """
    site, edition = the_site(), recipe.current_edition if is_out(recipe) else None
    kept = collect_facts(newest_revision(recipe), at=timezone.now()) if edition is None else edition.facts
    frame = PageFrame(site_name=site.name, draft=True) if edition is None else frame_of(request, recipe, site)
    page, root = page_as_written(recipe.slug, read_facts(kept), site), photo_root(frame)
    linked = recipe_linked(page, frame, photo_root=root)
    stages = tuple(stage.label.capitalize() for stage in page.stages if stage.label)
    form = ElsewhereForm(request.POST or None, initial={name: getattr(recipe, name) for name in ELSEWHERE}, stages=stages)
    if request.method == "POST" and form.is_valid():
        say_elsewhere(recipe=recipe, values=form.cleaned_data, at=timezone.now())
        messages.success(request, "Saved. Readers and search engines get it from now on.")
        return redirect("kitchen:recipe-machines", recipe.slug)
    context = {
        "form": form,
        "recipe": recipe,
        "page": page,
        "frame": frame,
        "draft": edition is None,
        "pictures": pictures_of(page, frame, photo_root=root),
        "linked": json.dumps(linked, ensure_ascii=False, indent=1),
        "gaps": gaps_in(linked, has_photo=page.recipe.photo is not None, has_address=bool(site.base_url)),
    }
    return render(request, "kitchen/bench/machines.html", context, status=400 if form.errors else 200)
