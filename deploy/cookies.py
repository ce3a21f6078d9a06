"""Where the words after a save wait for the next page: in a cookie named as the others are, in the session where it is full."""

from __future__ import annotations

from django.conf import settings
from django.contrib.messages.storage.cookie import CookieStorage
from django.contrib.messages.storage.fallback import FallbackStorage
from django.contrib.messages.storage.session import SessionStorage


class _NamedCookie(CookieStorage):
    cookie_name = settings.MESSAGE_COOKIE_NAME


class Messages(FallbackStorage):
    """Django's own, under the name of this site's cookies."""

    storage_classes = (_NamedCookie, SessionStorage)
