"""The log sheet for pen and paper, and the grid that adds many rows to a run at once."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from energy import access
from energy.cards.cautions import cautions_of_cooker
from energy.cards.collecting import appliance_facts
from energy.form_fields import OnceField
from energy.models import Run
from energy.runs.forms.grid import MoreRows
from energy.runs.operations import sheet as operations
from energy.runs.queries import sheet as queries
from energy.runs.queries.recording import newest_revision
from energy.runs.views.undo import ROWS, to_undo, undo_token
from kitchen.access import recipe_to_record
from kitchen.models import Recipe, Revision
from kitchen.publish.paper import FORM_SIZES, print_form
from kitchen.publish.qr import qr_code
from kitchen.queries import the_site
from kitchen.views.framing import whole_address
from kitchen.views.helping import for_helpers


@for_helpers
@login_required
@require_safe
def log_sheet(request: HttpRequest, slug: str) -> HttpResponse:
    """The log sheet as a PDF. ``/bench/recipes/<slug>/log-sheet.pdf?size=a5``; who may edit the recipe; another size is 404."""
    recipe = recipe_to_record(request.user, slug)
    revision, size = newest_revision(recipe), FORM_SIZES.get(request.GET.get("size", "a5"))
    if revision is None or size is None:
        raise Http404(f"Log sheets are printed as {', '.join(FORM_SIZES)}, of a recipe that has a revision.")
    context = _sheet(request, recipe, revision)

    def markup(spare: int) -> str:
        first = context["planned"] + 1
        return render_to_string("energy/sheet/sheet.html", {**context, "size": size, "spare": range(first, first + spare)})

    answer = HttpResponse(print_form(markup, size, "css/sheet.css"), content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{recipe.slug}-log-sheet-{size.key}.pdf"'
    answer["Cache-Control"] = "private, no-cache"
    return answer


def _sheet(request: HttpRequest, recipe: Recipe, revision: Revision) -> dict[str, Any]:
    """Return what stands on the paper, apart from the empty rows that fill its last page."""
    site, rows = the_site(), queries.grid_plan(revision, is_sheet=True).rows
    address = whole_address(request, site, reverse("energy:run-new", args=[recipe.slug]) + "?sheet=1")
    cooked_on = queries.usual_appliance(recipe, revision, request.user, timezone.localtime())
    return {
        "recipe": recipe,
        "revision": revision,
        "stages": queries.sheet_stages(rows),
        "planned": len(rows),
        "cautions": cautions_of_cooker(appliance_facts(cooked_on)) if cooked_on else [],
        "qr": qr_code(address),
    }


@for_helpers
@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def run_rows(request: HttpRequest, pk: int) -> HttpResponse:
    """Type many rows into a run that is there. ``/bench/runs/<pk>/rows/``; bad rows come back as typed."""
    run = access.run_for_bench(request.user, pk)
    once = OnceField().clean(request.POST.get("once"))
    grid = MoreRows(request.POST if request.method == "POST" else None, run=run, kept=queries.kept_readings(run, once))
    if grid.saves and grid.is_valid():
        added = operations.add_rows(run=run, rows=grid.typed, once=grid.once, at=timezone.now())
        if added is None:
            messages.success(request, "These rows were here already.")
            return redirect("energy:run", pk)
        return redirect(f"{reverse('energy:run-rows', args=[pk])}?added={undo_token(run, added, ROWS)}")
    context = {"run": run, "grid": grid, "zone": timezone.get_current_timezone_name(), **_just_added(request, run)}
    return render(request, "energy/sheet/rows.html", context, status=422 if grid.checked else 200)


@for_helpers
@login_required
@require_POST
def run_rows_undo(request: HttpRequest, pk: int) -> HttpResponse:
    """Take the last rows back. ``/bench/runs/<pk>/rows/undo/``; twice changes nothing."""
    run = access.run_for_bench(request.user, pk)
    added = to_undo(request.POST.get("added", ""), run, ROWS)
    if added is None:
        messages.error(request, "These rows cannot be taken back any more. Remove them one by one below.")
    else:
        operations.take_rows_back(run=run, added=added, at=timezone.now())
        messages.success(request, "The rows are taken back.")
    return redirect("energy:run", pk)


def _just_added(request: HttpRequest, run: Run) -> dict[str, Any]:
    """Return what the page says of the rows that were added just now."""
    token = request.GET.get("added", "")
    added = to_undo(token, run, ROWS) if token and request.method != "POST" else None
    if added is None:
        return {}
    counts = [(added["readings"], "reading"), (len(added["stages"]), "stage"), (added["notes"], "note")]
    words = ", ".join(f"{count} {word}{'' if count == 1 else 's'}" for count, word in counts if count)
    return {"added": token, "added_words": words, "kept_form": UUID(added["once"])}
