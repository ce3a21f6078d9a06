"""Photos on the bench, and the files that pages show."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

from django.conf import settings
from django.contrib import messages
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST

from kitchen.access import photo_for_bench, photo_is_public
from kitchen.domain.pictures import previews
from kitchen.forms.photos import PhotoForm, PhotoWordsForm
from kitchen.models import Photo, Recipe
from kitchen.operations import PhotoRefused, add_photo, change_photo, lead_with, remove_photo
from kitchen.operations.room import DiskFull
from kitchen.queries import photos_of
from kitchen.views.doors import of_anybody, of_recipe


@never_cache
@of_recipe
@require_http_methods(["GET", "HEAD", "POST"])
def photos(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """A recipe's photos and the form that adds one. Address ``/bench/recipes/<slug>/photos/``; its owner.

    What cannot become a photo, or finds no room, is refused beside the field, and the words typed are still there.
    """
    form, status = PhotoForm(request.POST, request.FILES) if request.method == "POST" else PhotoForm(), 200
    if request.method == "POST" and form.is_valid():
        try:
            sent = form.cleaned_data
            photo = add_photo(recipe=recipe, picture=sent["picture"], alt=sent["alt"], at=timezone.now())
            messages.success(request, "The photo is saved. Choose what must stay in view when it is cropped.")
            return redirect("kitchen:photo-edit", recipe.slug, photo.pk)
        except PhotoRefused as refusal:
            form.add_error("picture", str(refusal))
        except DiskFull as full:
            form.add_error("picture", f"{full.words} Nothing was saved; free some space, and send it again.")
            status = 507
    context = {"recipe": recipe, "form": form, "photos": photos_of(recipe)}
    return render(request, "kitchen/bench/photos.html", context, status=status)


@never_cache
@of_recipe
@require_http_methods(["GET", "HEAD", "POST"])
def photo_edit(request: HttpRequest, recipe: Recipe, number: int) -> HttpResponse:
    """A photo's words, the point that stays in view, and its crops. Address ``/bench/recipes/<slug>/photos/<n>/``; the owner.

    Mistakes are said beside their fields.
    """
    photo = photo_for_bench(recipe, number)
    form = PhotoWordsForm(request.POST if request.method == "POST" else None, initial=_as_shown(photo))
    if request.method == "POST" and form.is_valid():
        change_photo(photo=photo, **form.words())
        messages.success(request, "The photo’s words and crops are saved.")
        return redirect("kitchen:photos", recipe.slug)
    return render(
        request, "kitchen/bench/photo.html", {"recipe": recipe, "photo": photo, "form": form, "previews": previews(photo.crops)}
    )


def _as_shown(photo: Photo) -> dict[str, str | Decimal]:
    point = {name: Decimal(f"{getattr(photo, name) * 100:.4g}") for name in ("focal_x", "focal_y")}
    return {"alt": photo.alt, **point}


@of_recipe
@require_POST
def photo_lead(request: HttpRequest, recipe: Recipe, number: int) -> HttpResponse:
    """Show a photo at the head. Address ``/bench/recipes/<slug>/photos/<n>/lead/`` (POST); the owner."""
    lead_with(photo=photo_for_bench(recipe, number))
    return redirect("kitchen:photos", recipe.slug)


@never_cache
@of_recipe
@require_http_methods(["GET", "HEAD", "POST"])
def photo_remove(request: HttpRequest, recipe: Recipe, number: int) -> HttpResponse:
    """Take a photo away after asking. Address ``/bench/recipes/<slug>/photos/<n>/remove/``; the owner."""
    photo = photo_for_bench(recipe, number)
    if request.method != "POST":
        return render(request, "kitchen/bench/photo-remove.html", {"recipe": recipe, "photo": photo})
    remove_photo(photo=photo)
    messages.success(request, "The photo is gone from the recipe. Editions that show it keep it.")
    return redirect("kitchen:photos", recipe.slug)


@of_anybody
def photo_file(request: HttpRequest, name: str) -> HttpResponseBase:
    """A photo's file. Address ``/photos/<name>``; anybody where a public page shows it, else those who record its recipe.

    The name changes with the picture, so browsers may keep a public one for a year without asking again.
    """
    public = photo_is_public(request.user, name)
    try:
        file = (Path(settings.MEDIA_ROOT) / name).open("rb")
    except OSError:
        raise Http404("There is no photo of this name.") from None
    answer = FileResponse(file, content_type="image/webp" if name.endswith(".webp") else "image/jpeg")
    answer.headers["Cache-Control"] = "public, max-age=31536000, immutable" if public else "private, max-age=3600"
    return answer
