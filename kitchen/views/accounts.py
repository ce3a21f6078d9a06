"""Accounts: the first start, cooks and their links, passwords."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth import login
from django.contrib.auth.models import User
from django.contrib.auth.views import PasswordChangeView
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse, reverse_lazy
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from kitchen.access import account_for_owner, cook_for_owner
from kitchen.forms.accounts import HELPER, CookForm, FirstStartForm, NewPasswordForm, PasswordTwiceForm
from kitchen.operations import (
    CookLink,
    LinkIsDead,
    NameTaken,
    add_cook,
    check_first_link,
    choose_password,
    close_account,
    cook_link,
    cook_of_link,
    make_owner,
    open_account,
    set_helper,
)
from kitchen.queries import cooks as everybody
from kitchen.queries import money_of_recipes, the_site
from kitchen.queries.changes import ACCOUNT, changes_of
from kitchen.views.doors import hand_of, of_cook, of_owner
from kitchen.views.first_things import onward
from kitchen.views.helping import for_helpers
from kitchen.views.signing_in import comer_of, know_device

_FORM = require_http_methods(["GET", "HEAD", "POST"])
_BACKEND = "django.contrib.auth.backends.ModelBackend"


class _NewPassword(PasswordChangeView):
    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "comer": comer_of(self.request)}


password = for_helpers(
    of_cook(
        _NewPassword.as_view(
            template_name="kitchen/bench/password.html",
            form_class=NewPasswordForm,
            success_url=reverse_lazy("kitchen:password-changed"),
        )
    )
)


@for_helpers
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
    form = FirstStartForm(request.POST if request.method == "POST" else None, prices_in=money_of_recipes())
    try:
        check_first_link(token, at=at)
        if request.method == "POST" and form.is_valid():
            said = form.cleaned_data
            site = {"name": said["kitchen_name"], "currency": said["currency"], "time_zone": said["time_zone"]}
            owner = make_owner(token=token, username=said["name"], password=said["password"], site=site, at=at)
            return _come_in(request, owner, onward(owner))
    except NameTaken as refusal:
        form.add_error("name", str(refusal))
    except LinkIsDead as dead:
        return _dead(request, dead)
    return render(request, "kitchen/bench/start.html", {"form": form})


@for_helpers
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
            cook = choose_password(link=link, password=form.cleaned_data["password"], at=timezone.now())
            return _come_in(request, cook)
    except LinkIsDead as dead:
        return _dead(request, dead)
    return render(request, "kitchen/bench/join.html", {"form": form, "cook": cook})


def _come_in(request: HttpRequest, cook: User, address: str = "kitchen:bench") -> HttpResponse:
    """Sign in whoever has just chosen a password, and know the device from now on."""
    login(request, cook, backend=_BACKEND)
    return know_device(request, redirect(address), cook)


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
            said = form.cleaned_data
            return _with_link(request, add_cook(username=said["name"], helps=said["role"] == HELPER, by=hand_of(request)))
        except NameTaken as refusal:
            form.add_error("name", str(refusal))
    fresh = request.session.pop("cook_link", None)
    return render(request, "kitchen/bench/cooks.html", {"form": form, "cooks": everybody(), "fresh": fresh})


@of_owner
@require_POST
def cook_new_link(request: HttpRequest, number: int) -> HttpResponse:
    """Make a new link for a cook who has lost the password. Address ``/bench/cooks/<n>/link/`` (POST); the owner."""
    return _with_link(request, cook_for_owner(number))


@never_cache
@of_owner
@_FORM
def cook_account(request: HttpRequest, number: int) -> HttpResponse:
    """One cook's account: its role, closing it, opening it again. Address ``/bench/cooks/<n>/``; the owner."""
    cook = account_for_owner(number)
    if request.method != "POST":
        return render(request, "kitchen/bench/cook.html", {"cook": cook, "history": changes_of(cook, ACCOUNT)})
    wish, by = request.POST.get("do", ""), hand_of(request)
    if wish == "open" and not cook.is_active:
        open_account(cook=cook, by=by)
        return _with_link(request, cook)
    if wish == "close" and cook.is_active:
        close_account(cook=cook, by=by)
        messages.success(request, f"The account of {cook.username} is closed. What was written with it stays.")
    elif wish in (HELPER, "cook") and cook.is_active:
        set_helper(cook=cook, helps=wish == HELPER, by=by)
        messages.success(request, f"{cook.username} {'only records cooks' if wish == HELPER else 'writes recipes'} from now on.")
    return redirect("kitchen:cook", number)


def _with_link(request: HttpRequest, cook: User) -> HttpResponse:
    """Go to the page of cooks, which shows the link once."""
    link = cook_link(cook=cook, by=hand_of(request))
    path = reverse("kitchen:join", args=[link.uid, link.token])
    root = the_site().base_url
    request.session["cook_link"] = {"name": cook.username, "url": root + path if root else request.build_absolute_uri(path)}
    return redirect("kitchen:cooks")
