"""Bench pages of a meter's devices: let one send readings, see when each was heard last, revoke one."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from energy import access
from energy.meters.forms.devices import DeviceForm
from energy.meters.operations.devices import A_MINUTE, make_device, revoke_device
from energy.meters.queries.device_readings import devices_of, newest_sent
from energy.models import Meter


@never_cache
@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def device_list(request: HttpRequest, pk: int) -> HttpResponse:
    """A meter's devices, and one more. ``/bench/meters/<pk>/devices/``; any signed-in cook; a new token is shown this once."""
    meter = access.gear(Meter, pk)
    form = DeviceForm(request.POST if request.method == "POST" else None, meter=meter)
    token = ""
    if form.is_valid():
        _, token = make_device(meter=meter, name=form.cleaned_data["name"], by=request.user, at=timezone.now())
        form = DeviceForm(meter=meter)
    context = {
        "meter": meter,
        "devices": devices_of(meter),
        "newest": newest_sent(meter),
        "form": form,
        "token": token,
        "address": request.build_absolute_uri(reverse("energy:api-readings")),
        "example_at": f"{timezone.now():%Y-%m-%dT%H:%M:%SZ}",
        "secure": request.is_secure(),
        "a_minute": A_MINUTE,
    }
    return render(request, "energy/devices/list.html", context, status=422 if form.errors else 200)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def device_revoke(request: HttpRequest, pk: int, device: int) -> HttpResponse:
    """Revoke a device after asking. ``/bench/meters/<pk>/devices/<device>/revoke/``; any signed-in cook."""
    found = access.device(pk, device)
    if request.method != "POST":
        return render(request, "energy/devices/revoke.html", {"device": found, "meter": found.meter})
    revoke_device(device=found, at=timezone.now(), by=request.user)
    messages.success(request, f"“{found.name}” can send no more. What it sent stays.")
    return redirect("energy:devices", pk)
