"""The one door: signing in and out, and the cookie by which a device is known again."""

from __future__ import annotations

import secrets
from typing import Any

from django.conf import settings
from django.contrib.auth.models import User
from django.contrib.auth.views import LoginView, LogoutView, redirect_to_login
from django.core import signing
from django.http import Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase

from kitchen.domain.client_address import origin_of
from kitchen.forms.accounts import SignInForm
from kitchen.operations.sign_ins import Comer
from kitchen.queries import the_site
from kitchen.views.helping import for_helpers

_SALT = "kitchen.known-device"
_KNOWN_FOR_S = 365 * 24 * 3600
_MOST_COOKS = 8
"""So many cooks a device knows; the one who came first is forgotten first."""


class _SignIn(LoginView):
    """Django's view puts the request's host under ``site``; the frame of a page needs the kitchen's own row."""

    http_method_names = ["get", "head", "post", "options"]

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return {**super().get_context_data(**kwargs), "site": the_site()}

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "comer": comer_of(self.request)}

    def form_valid(self, form: Any) -> HttpResponse:
        return know_device(self.request, super().form_valid(form), form.get_user())

    def form_invalid(self, form: Any) -> HttpResponse:
        """Say what is wrong; who has to wait is told how long, in the head of the answer too."""
        answer = super().form_invalid(form)
        if form.wait_s:
            answer.status_code = form.wait_status
            answer.headers["Retry-After"] = str(form.wait_s)
        return answer


class _SignOut(LogoutView):
    """What a browser kept of the bench's pages goes with the session; never what it stored: unsent readings live there."""

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        answer = super().post(request, *args, **kwargs)
        answer.headers["Clear-Site-Data"] = '"cache"'
        return answer


sign_in = for_helpers(
    _SignIn.as_view(template_name="kitchen/bench/sign-in.html", authentication_form=SignInForm, redirect_authenticated_user=True)
)
sign_out = for_helpers(_SignOut.as_view())


def tables_sign_in(request: HttpRequest) -> HttpResponseBase:
    """Lead to the bench's door, which is the tables' too. ``/bench/tables/login/``; a cook who may not see the tables: 404."""
    if request.user.is_authenticated:
        raise Http404("There is nothing at this address.")
    return redirect_to_login(request.GET.get("next", "/bench/tables/"))


def comer_of(request: HttpRequest) -> Comer:
    """Return who is at the door, as far as the connection, trusted proxies and the device's own cookie tell."""
    forwarded = ",".join(request.headers.get("X-Forwarded-For", "").split(",")[-20:])
    return Comer(origin_of(request.META.get("REMOTE_ADDR", ""), forwarded, settings.TRUSTED_PROXIES), _known_as(request))


def know_device(request: HttpRequest, answer: HttpResponse, cook: User) -> HttpResponse:
    """Return the answer with the cookie by which this device is known when the cook signs in next time."""
    known = _known_as(request)
    name = known.pop(str(cook.pk), "") or secrets.token_urlsafe(16)
    kept = dict([*known.items(), (str(cook.pk), name)][-_MOST_COOKS:])
    text = signing.dumps(kept, salt=_SALT, compress=True)
    secure = settings.SESSION_COOKIE_SECURE
    answer.set_cookie(settings.DEVICE_COOKIE_NAME, text, max_age=_KNOWN_FOR_S, samesite="Lax", secure=secure, httponly=True)
    return answer


def _known_as(request: HttpRequest) -> dict[str, str]:
    """Return what the device is called for each cook; nothing where its cookie is missing, old or not ours."""
    try:
        held = signing.loads(request.COOKIES.get(settings.DEVICE_COOKIE_NAME, ""), salt=_SALT, max_age=_KNOWN_FOR_S)
    except signing.BadSignature:
        return {}
    return held if isinstance(held, dict) else {}
