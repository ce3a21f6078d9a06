"""The feed of published recipes (Atom, RFC 4287): every edition is an entry, with the whole recipe in it."""

from __future__ import annotations

import re
import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from django.utils.feedgenerator import Atom1Feed
from django.utils.html import escape
from django.utils.xmlutils import SimplerXMLGenerator

_CONTROLS = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]")  # no XML holds them, however they are spelled

_NO_DAY = datetime(1970, 1, 1, tzinfo=UTC)


@dataclass(frozen=True)
class FeedEntry:
    """An edition: its lasting name, title, whole address, day, words and the recipe as HTML."""

    name: str
    title: str
    address: str
    published_at: datetime
    author: str
    summary: str
    content: str
    tags: tuple[str, ...] = ()


class _Feed(Atom1Feed):
    """An Atom feed whose entries hold all that there is to read."""

    def latest_post_date(self) -> datetime:
        """Return the day of the newest entry; always the same one where there is none."""
        return max((item["updateddate"] for item in self.items), default=_NO_DAY)

    def add_root_elements(self, handler: SimplerXMLGenerator) -> None:
        """Write the feed's elements, with the address of its licence (RFC 4946) where it has one."""
        super().add_root_elements(handler)
        if self.feed["licence"]:
            handler.addQuickElement("link", None, {"rel": "license", "href": self.feed["licence"]})

    def add_item_elements(self, handler: SimplerXMLGenerator, item: dict[str, Any]) -> None:
        """Write an entry's elements, its content last."""
        super().add_item_elements(handler, item)
        handler.addQuickElement("content", item["content"], {"type": "html"})


def edition_name(recipe: uuid.UUID, number: int) -> str:
    """Return the name of an edition that stays when its recipe moves to another address or another site."""
    return uuid.uuid5(recipe, f"edition {number}").urn


def atom_feed(
    entries: Sequence[FeedEntry], *, title: str, subtitle: str, home: str, address: str, rights: str, licence: str = ""
) -> str:
    """Return the feed. ``home`` is the page that it belongs to, ``address`` its own, ``licence`` its licence's, all whole."""
    feed = _Feed(
        *(clean(title), home, ""),
        subtitle=clean(subtitle),
        language="en",
        feed_url=address,
        feed_guid=address,
        feed_copyright=clean(rights),
        licence=licence,
    )
    for entry in entries:
        feed.add_item(
            title=clean(entry.title),
            link=entry.address,
            description=escape(clean(entry.summary)),
            author_name=clean(entry.author),
            unique_id=entry.name,
            categories=[clean(tag) for tag in entry.tags],
            pubdate=entry.published_at,
            updateddate=entry.published_at,
            content=clean(entry.content),
        )
    return str(feed.writeString("utf-8"))


def clean(words: str) -> str:
    """Return words without the signs that XML cannot hold."""
    return _CONTROLS.sub("", words)
