"""What the owner does with an account: its role, closing it with all that it holds open, opening it again."""

from __future__ import annotations

from django.contrib.auth.models import Group, User
from django.contrib.sessions.models import Session
from django.db import transaction

from kitchen.farewells import farewells
from kitchen.operations.journal import Hand, note_account
from kitchen.queries.roles import HELPERS, forget_role, is_helper


@transaction.atomic
def set_helper(*, cook: User, helps: bool, by: Hand) -> None:
    """Let a cook only record cooks, or write recipes again; what the cook wrote stays. Twice changes nothing."""
    if is_helper(cook) == helps:
        return
    group, _ = Group.objects.get_or_create(name=HELPERS)
    if helps:
        cook.groups.add(group)
    else:
        cook.groups.remove(group)
    forget_role(cook)
    note_account(cook, "helper" if helps else "cook", by)


@transaction.atomic
def close_account(*, cook: User, by: Hand) -> None:
    """Close an account: its sessions, its links and its devices' tokens end at once, and its password is gone.

    What the cook wrote and measured stays.
    """
    cook.is_active = False
    cook.set_unusable_password()
    cook.save(update_fields=["is_active", "password"])
    Session.objects.filter(expire_date__lt=by.at).delete()
    held = [session.pk for session in Session.objects.iterator() if session.get_decoded().get("_auth_user_id") == str(cook.pk)]
    Session.objects.filter(pk__in=held).delete()
    for farewell in farewells():
        farewell(cook, by.at)
    note_account(cook, "closed", by)


@transaction.atomic
def open_account(*, cook: User, by: Hand) -> None:
    """Open a closed account again; the cook chooses a password with a new link."""
    cook.is_active = True
    cook.save(update_fields=["is_active"])
    note_account(cook, "opened", by)
