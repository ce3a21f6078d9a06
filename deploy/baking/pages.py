"""A page for plain files: its links made relative, so that it stands below any address, and what needs an answer taken out of it.

What is written as a file is linked as one. Anything else leads to the kitchen itself where its address is known; where it is
not, a link is left as words, and a form gives way to a sentence.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from urllib.parse import urlsplit

SENTENCE = '<p class="note">This is a copy in plain files: other sizes and your own kit are worked out where it was made.</p>'
_SCRIPTS = re.compile(r'<script\b[^>]*\bsrc="[^"]*"[^>]*></script>|<link rel="modulepreload"[^>]*>')
_HTMX = re.compile(r'\s+data-hx-[a-z-]+="[^"]*"')
_SEARCH_FORM = re.compile(r'<form class="search".*?</form>', re.S)
_KIT = re.compile(r'<(section|details|div)\b[^>]*\bid="your-kit".*?</\1>', re.S)
_ANSWERED = re.compile(
    r'<details class="ways.*?</details>\s*</div>\s*</details>|<p class="note screen-only">Measures:.*?</p>'
    r"|<form\b(?![^>]*data-up=).*?</form>",
    re.S,
)
_BENCH = re.compile(r'<li>\s*<a href="/bench/"[^>]*>.*?</a>\s*</li>', re.S)
_ALONG = re.compile(r"<button\b[^>]*\bdata-along=.*?</button>", re.S)
_HEAD_LINK = re.compile(r'<link\b[^>]*\bhref="(/[^"]*)"[^>]*>')
_ANCHOR = re.compile(r'<a\b([^>]*?)\bhref="([/?][^"]*)"([^>]*)>(.*?)</a>', re.S)
_ACTION = re.compile(r'\baction="(/[^"]*)"')
_FILES = re.compile(r'(?<=[\s",])/(?:static|photos)/[^\s",]+')


def file_of(path: str) -> str:
    """Return the file in which a path of the site is written.

    Examples
    --------
    >>> file_of("/"), file_of("/r/stew/"), file_of("/r/stew/card.pdf")
    ('index.html', 'r/stew/index.html', 'r/stew/card.pdf')
    """
    return path.lstrip("/") + ("index.html" if path.endswith("/") else "")


def for_files(page: str, path: str, written: Collection[str], *, site: str, search: str = "") -> str:
    """Return a page of the site as the file that stands for ``path``.

    ``written`` are the addresses that are written as files, ``site`` is the kitchen's own address, empty where it is not known,
    ``search`` what takes the place of the library's form.
    """
    up = "../" * written_as(path).count("/")
    page = _ALONG.sub("", _HTMX.sub("", _SCRIPTS.sub("", _BENCH.sub("", page))))
    if search:
        page = _SEARCH_FORM.sub(lambda _: search.replace('data-up="/"', f'data-up="{up}"'), page, count=1)
    if not site:
        page = _KIT.sub(SENTENCE, _ANSWERED.sub("", page))
    page = _HEAD_LINK.sub(lambda found: _head_link(found, up, written), page)
    page = _ANCHOR.sub(lambda found: _anchor(found, up, written, site), page)
    page = _ACTION.sub(lambda found: f'action="{site}{found[1]}"', page)
    return _FILES.sub(lambda found: f"{up}{found[0][1:]}", page)


def _head_link(found: re.Match[str], up: str, written: Collection[str]) -> str:
    address = found[1]
    if address.startswith(("/static/", "/photos/")):
        return found[0]
    return found[0].replace(f'href="{address}"', f'href="{up}{file_of(address)}"') if address in written else ""


def _anchor(found: re.Match[str], up: str, written: Collection[str], site: str) -> str:
    """Return a link as it stands in a file: to a file, to the kitchen, or its words alone; a button that leads nowhere goes."""
    before, address, after, words = found.groups()
    plain = address.replace("&amp;", "&")
    place, hash_sign, part = (f"/{plain}" if plain.startswith("?") else plain).partition("#")
    if place.startswith(("/static/", "/photos/")):
        return found[0]
    if place.startswith("/?q="):
        led = f"{up or './'}{place[1:]}"
    elif place in written:
        led = (up + written_as(place).removesuffix("index.html") or "./") + hash_sign + part
    elif site:
        led = f"{site}{place}{hash_sign}{part}"
    else:
        return "" if "button" in before + after or "data-asks" in before + after else words
    return f'<a{before}href="{led.replace("&", "&amp;")}"{after}>{words}</a>'


def written_as(address: str) -> str:
    """Return the file for an address, which may have a query: one of the library's further pages, or a card's size.

    Examples
    --------
    >>> written_as("/?page=3"), written_as("/r/stew/card.pdf?size=a6&for=8"), written_as("/r/stew/runs/")
    ('page-3/index.html', 'r/stew/card-a6-8.pdf', 'r/stew/runs/index.html')
    """
    path, _, query = address.partition("?")
    if not query:
        return file_of(path)
    told = "-".join(one.partition("=")[2] for one in query.split("&"))
    if path == "/":
        return f"page-{told}/index.html"
    stem, dot, kind = path.lstrip("/").rpartition(".")
    return f"{stem}-{told}{dot}{kind}"


def missing_links(page: str, file: str, files: Collection[str]) -> list[str]:
    """Return the files that a written page leads to and that are not there."""
    found = []
    for told in re.findall(r'\b(?:href|src)="([^"]*)"', page):
        parts = urlsplit(told.replace("&amp;", "&"))
        if parts.scheme or parts.netloc or not parts.path:
            continue
        steps = file.split("/")[:-1]
        for step in parts.path.split("/"):
            steps = steps[:-1] if step == ".." else [*steps, step] if step != "." else steps
        target = "/".join(steps)
        target += "index.html" if not target or target.endswith("/") else ""
        if target not in files:
            found.append(told)
    return found
