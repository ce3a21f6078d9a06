"""Accounts: the owner's first link, cooks and their links, and the kitchen's own row."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from django.contrib.auth.models import User
from django.contrib.auth.tokens import default_token_generator
from django.core import signing
from django.db import IntegrityError, transaction
from django.db.models import F
from django.utils.http import urlsafe_base64_decode, urlsafe_base64_encode

from kitchen.models import Site
from kitchen.operations.journal import Hand, note_account
from kitchen.operations.roles import set_helper
from kitchen.operations.sign_ins import forget_failures
from kitchen.queries import owner_exists

_FIRST = "kitchen.first-link"
FIRST_LINK_LASTS = timedelta(days=1)
_TAKEN = "Somebody else signs in under this name. Choose a different one."


class LinkIsDead(ValueError):
    """The link opens nothing any more; the message says why and what to do."""


class NameTaken(ValueError):
    """Another cook signs in under this name."""


def first_link_token(*, at: datetime) -> str:
    """Return the signed token of the link that makes the owner's account; it is good for one day.

    Raises
    ------
    LinkIsDead
        If the owner's account was made already.
    """
    if owner_exists():
        raise LinkIsDead("The owner’s account was made already. Sign in, or run: manage.py first_link --recover")
    return signing.dumps(int(at.timestamp()), salt=_FIRST)


def check_first_link(token: str, *, at: datetime) -> None:
    """Return if the link may still make the owner's account.

    Raises
    ------
    LinkIsDead
        If the link was altered, is older than a day, or the account was made already.
    """
    try:
        made_at = signing.loads(token, salt=_FIRST)
    except signing.BadSignature:
        raise LinkIsDead("This link is not whole. Copy it again from the terminal, from “http” to its end.") from None
    if owner_exists():
        raise LinkIsDead("This link has done its work: the owner’s account was made. Sign in with it.")
    if at.timestamp() - made_at > FIRST_LINK_LASTS.total_seconds():
        raise LinkIsDead("This link is more than a day old. Run “manage.py first_link” for a new one.")


@transaction.atomic
def make_owner(*, token: str, username: str, password: str, site: Mapping[str, str], at: datetime) -> User:
    """Make the owner's account and set the site's columns; of two people with the link, one gets it.

    Raises
    ------
    LinkIsDead
        If the link is good no longer, or somebody else was quicker.
    NameTaken
        If the name is a cook's already, such as that of the worked example.
    """
    Site.objects.get_or_create(pk=1)
    # A write comes first: the second of two waits here until the first is done, and then sees the account.
    Site.objects.filter(pk=1).update(altitude_m=F("altitude_m"))
    check_first_link(token, at=at)
    _refuse_taken(username)
    Site.objects.filter(pk=1).update(**site)
    owner = User.objects.create_superuser(username, password=password)
    note_account(owner, "owner", Hand(owner, at))
    return owner


@dataclass(frozen=True)
class CookLink:
    """The two parts of the link with which a cook chooses a password."""

    uid: str
    token: str


@transaction.atomic
def add_cook(*, username: str, helps: bool = False, by: Hand | None = None) -> User:
    """Add a cook's account, without a password until the cook has chosen one; one who ``helps`` only records cooks.

    Raises
    ------
    NameTaken
        If the name is another cook's, whatever its capitals.
    """
    _refuse_taken(username)
    try:
        with transaction.atomic():
            cook = User.objects.create_user(username)
    except IntegrityError:  # somebody added the same cook at the same moment
        raise NameTaken(_TAKEN) from None
    if by is not None:
        note_account(cook, "made", by)
        set_helper(cook=cook, helps=helps, by=by)
    return cook


def _refuse_taken(username: str) -> None:
    if User.objects.filter(username__iexact=username).exists():
        raise NameTaken(_TAKEN)


def cook_link(*, cook: User, by: Hand | None = None) -> CookLink:
    """Return a link with which this cook chooses a password: it works once, and for three days."""
    if by is not None:
        note_account(cook, "link", by)
    return CookLink(urlsafe_base64_encode(str(cook.pk).encode()), default_token_generator.make_token(cook))


def cook_of_link(link: CookLink) -> User:
    """Return the cook whose link this is.

    Raises
    ------
    LinkIsDead
        If the link was altered, used or has grown old.
    """
    try:
        cook = User.objects.get(pk=int(urlsafe_base64_decode(link.uid)), is_active=True)
    except (ValueError, OverflowError, User.DoesNotExist):
        cook = None
    if cook is None or not default_token_generator.check_token(cook, link.token):
        raise LinkIsDead("This link was used already or has grown old. Ask whoever runs the kitchen for a new one.")
    return cook


@transaction.atomic
def choose_password(*, link: CookLink, password: str, at: datetime | None = None) -> User:
    """Set the password that a cook chose; the link is dead from then on. Raises LinkIsDead like ``cook_of_link``."""
    list(User.objects.select_for_update().filter(pk=cook_of_link(link).pk))
    cook = cook_of_link(link)
    cook.set_password(password)
    cook.save(update_fields=["password"])
    forget_failures(cook=cook)
    if at is not None:
        note_account(cook, "password", Hand(cook, at))
    return cook


def owner_to_recover(name: str = "") -> User:
    """Return whoever runs the kitchen; where more than one does, the one of a name.

    Raises
    ------
    LinkIsDead
        If nobody runs it yet, or the name is none of theirs, or more than one could be meant.
    """
    owners = User.objects.filter(is_superuser=True, is_active=True).order_by("pk")
    found = list(owners.filter(username=name) if name else owners)
    if len(found) == 1:
        return found[0]
    names = ", ".join(owners.values_list("username", flat=True))
    if not names:
        raise LinkIsDead("Nobody runs this kitchen yet. Run: manage.py first_link")
    raise LinkIsDead(f"Say whose account: manage.py first_link --recover NAME. These run the kitchen: {names}.")


def change_site(*, values: dict[str, Any]) -> Site:
    """Set what the kitchen says about itself: name, tagline, currency, measures, altitude, public address."""
    site, _ = Site.objects.update_or_create(pk=1, defaults=values)
    return site
