"""Accounts: the first start, signing in and out, cooks and their links, passwords."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth import login
from django.contrib.auth.models import User
from django.contrib.auth.views import LoginView, LogoutView, PasswordChangeView
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse, reverse_lazy
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from kitchen.forms.accounts import CookForm, FirstStartForm, PasswordTwiceForm, SignInForm
from kitchen.operations import (
    CookLink,
    LinkIsDead,
    NameTaken,
    add_cook,
    check_first_link,
    choose_password,
    cook_link,
    cook_of_link,
    make_owner,
)
from kitchen.queries import cooks as everybody
from kitchen.queries import the_site
from kitchen.views.doors import of_cook, of_owner

_FORM = require_http_methods(["GET", "HEAD", "POST"])
_BACKEND = "django.contrib.auth.backends.ModelBackend"


class _SignIn(LoginView):
    """Django's view puts the request's host under ``site``; the frame of a page needs the kitchen's own row."""

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        return {**super().get_context_data(**kwargs), "site": the_site()}


sign_in = _SignIn.as_view(
    template_name="kitchen/bench/sign-in.html", authentication_form=SignInForm, redirect_authenticated_user=True
)
sign_out = LogoutView.as_view()
password = of_cook(
    PasswordChangeView.as_view(template_name="kitchen/bench/password.html", success_url=reverse_lazy("kitchen:password-changed"))
)


@of_cook
def password_changed(request: HttpRequest) -> HttpResponse:
    """Say that the password was changed. Address ``/bench/password/changed/``; cooks."""
    messages.success(request, "Your new password holds from now on. Other devices have to sign in again.")
    return redirect("kitchen:bench")


@never_cache
@sensitive_post_parameters("password", "again")
@_FORM
def start(request: HttpRequest, token: str) -> HttpResponse:
    """Make the owner's account. Address ``/start/<token>/``; who holds the link; a dead one says why (410), a taken name too."""
    at = timezone.now()
    form = FirstStartForm(request.POST if request.method == "POST" else None)
    try:
        check_first_link(token, at=at)
        if request.method == "POST" and form.is_valid():
            said = form.cleaned_data
            names = {"kitchen_name": said["kitchen_name"], "currency": said["currency"]}
            owner = make_owner(token=token, username=said["name"], password=said["password"], at=at, **names)
            login(request, owner, backend=_BACKEND)
            return redirect("kitchen:bench")
    except NameTaken as refusal:
        form.add_error("name", str(refusal))
    except LinkIsDead as dead:
        return _dead(request, dead)
    return render(request, "kitchen/bench/start.html", {"form": form})


@never_cache
@sensitive_post_parameters("password", "again")
@_FORM
def join(request: HttpRequest, uid: str, token: str) -> HttpResponse:
    """Choose a password with a cook's link. Address ``/bench/join/<uid>/<token>/``; a dead link says why (410)."""
    link = CookLink(uid, token)
    try:
        cook = cook_of_link(link)
        form = PasswordTwiceForm(request.POST if request.method == "POST" else None, username=cook.get_username())
        if request.method == "POST" and form.is_valid():
            cook = choose_password(link=link, password=form.cleaned_data["password"])
            login(request, cook, backend=_BACKEND)
            return redirect("kitchen:bench")
    except LinkIsDead as dead:
        return _dead(request, dead)
    return render(request, "kitchen/bench/join.html", {"form": form, "cook": cook})


def _dead(request: HttpRequest, dead: LinkIsDead) -> HttpResponse:
    return render(request, "kitchen/bench/dead-link.html", {"sentence": str(dead)}, status=410)


@never_cache
@of_owner
@_FORM
def cooks(request: HttpRequest) -> HttpResponse:
    """Everybody with an account, and the form that adds a cook. Address ``/bench/cooks/``; the owner; a taken name is refused."""
    form = CookForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        try:
            return _with_link(request, add_cook(username=form.cleaned_data["name"]))
        except NameTaken as refusal:
            form.add_error("name", str(refusal))
    fresh = request.session.pop("cook_link", None)
    return render(request, "kitchen/bench/cooks.html", {"form": form, "cooks": everybody(), "fresh": fresh})


@of_owner
@require_POST
def cook_new_link(request: HttpRequest, number: int) -> HttpResponse:
    """Make a new link for a cook who has lost the password. Address ``/bench/cooks/<n>/link/`` (POST); the owner."""
    return _with_link(request, get_object_or_404(User, pk=number, is_superuser=False, is_active=True))


def _with_link(request: HttpRequest, cook: User) -> HttpResponse:
    """Go to the page of cooks, which shows the link once."""
    link = cook_link(cook=cook)
    path = reverse("kitchen:join", args=[link.uid, link.token])
    root = the_site().base_url
    request.session["cook_link"] = {"name": cook.username, "url": root + path if root else request.build_absolute_uri(path)}
    return redirect("kitchen:cooks")
