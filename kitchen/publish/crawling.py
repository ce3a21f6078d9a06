"""What search engines ask for first: which addresses they may read (RFC 9309), and a list of all (sitemaps.org 0.9)."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from io import StringIO
from xml.sax.xmlreader import AttributesImpl

from django.utils.xmlutils import SimplerXMLGenerator

MOST_ADDRESSES = 5000
"""In one file; the protocol allows 50,000 addresses and 50 MB."""

_SITEMAP = "http://www.sitemaps.org/schemas/sitemap/0.9"
_IMAGES = "http://www.google.com/schemas/sitemap-image/1.1"


@dataclass(frozen=True)
class ListedAddress:
    """A whole address, when what stands there last changed, and the whole addresses of its pictures."""

    address: str
    changed_at: datetime | None = None
    pictures: tuple[str, ...] = ()


def robots_text(sitemap: str, closed: Sequence[str]) -> str:
    """Return ``robots.txt``: everything may be read but what begins with a ``closed`` path; ``sitemap`` is a whole address."""
    rules = "".join(f"Disallow: {path}\n" for path in closed)
    return f"User-agent: *\n{rules}\nSitemap: {sitemap}\n"


def sitemap_xml(listed: Iterable[ListedAddress]) -> str:
    """Return a sitemap with its images."""
    out, xml = _begun("urlset", {"xmlns": _SITEMAP, "xmlns:image": _IMAGES})
    for one in listed:
        xml.startElement("url", AttributesImpl({}))
        _place(xml, one)
        for picture in one.pictures:
            xml.startElement("image:image", AttributesImpl({}))
            xml.addQuickElement("image:loc", picture)
            xml.endElement("image:image")
        xml.endElement("url")
    return _ended(out, xml, "urlset")


def sitemap_index_xml(files: Iterable[ListedAddress]) -> str:
    """Return the list of a site's sitemaps."""
    out, xml = _begun("sitemapindex", {"xmlns": _SITEMAP})
    for one in files:
        xml.startElement("sitemap", AttributesImpl({}))
        _place(xml, one)
        xml.endElement("sitemap")
    return _ended(out, xml, "sitemapindex")


def _place(xml: SimplerXMLGenerator, one: ListedAddress) -> None:
    xml.addQuickElement("loc", one.address)
    if one.changed_at is not None:
        xml.addQuickElement("lastmod", one.changed_at.isoformat(timespec="seconds"))


def _begun(root: str, names: dict[str, str]) -> tuple[StringIO, SimplerXMLGenerator]:
    out = StringIO()
    xml = SimplerXMLGenerator(out, "utf-8")
    xml.startDocument()
    xml.startElement(root, AttributesImpl(names))
    return out, xml


def _ended(out: StringIO, xml: SimplerXMLGenerator, root: str) -> str:
    xml.endElement(root)
    xml.endDocument()
    return out.getvalue()
