"""What the kitchen says about itself."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_safe

from kitchen.forms.site import SiteForm
from kitchen.operations import change_site
from kitchen.queries import the_site
from kitchen.views.doors import of_cook, of_owner
from kitchen.views.helping import for_helpers


@never_cache
@for_helpers
@of_cook
@require_safe
def kitchen(request: HttpRequest) -> HttpResponse:
    """The kitchen itself: where its people, settings and safety copies are, and the way out. ``/bench/kitchen/``; any account."""
    return render(request, "kitchen/bench/kitchen.html")


@never_cache
@of_owner
@require_http_methods(["GET", "HEAD", "POST"])
def site_settings(request: HttpRequest) -> HttpResponse:
    """Name, currency, zone, measures, altitude, link. Address ``/bench/settings/``; the owner; mistakes beside their fields."""
    site = the_site()
    initial = {name: getattr(site, name) for name in SiteForm.base_fields}
    initial["time_zone"] = timezone.get_current_timezone_name()
    form = SiteForm(request.POST if request.method == "POST" else None, initial=initial)
    if request.method == "POST" and form.is_valid():
        change_site(values=form.cleaned_data)
        messages.success(request, "The settings are saved.")
        return redirect("kitchen:site-settings")
    return render(request, "kitchen/bench/settings.html", {"form": form})
