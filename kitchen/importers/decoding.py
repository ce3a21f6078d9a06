"""A saved file's bytes as text: which encoding it is in, and plain words for what is no page at all."""

from __future__ import annotations

import re

from kitchen.importers.found import UnreadableRecipe

MOST_BYTES = 10 * 1024 * 1024
_LOOKED_AT = 8192

_KINDS = (
    (b"%PDF", "a PDF"),
    (b"PK\x03\x04", "a packed file (an archive, a word processor's document or a book)"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"GIF8", "a picture"),
    (b"\x1f\x8b", "a packed file"),
    (b"7z\xbc\xaf", "a packed file"),
    (b"{\\rtf", "a word processor's document"),
    (b"\xd0\xcf\x11\xe0", "an old word processor's document"),
    (b"bplist00", "a browser's own archive"),
    (b"SQLite format", "a database"),
)
_WHAT_TO_DO = "Save the page as HTML, or copy its text and paste it below."
_CHARSET = re.compile(rb"charset\s*=\s*[\"']?\s*([A-Za-z0-9_:-]{2,24})", re.IGNORECASE)
_XML_ENCODING = re.compile(rb"<\?xml[^>]{0,200}encoding\s*=\s*[\"']([A-Za-z0-9_:-]{2,24})", re.IGNORECASE)
# Only what pages are really written in: some of Python's codecs are not text encodings, and some are slow on purpose-made bytes.
_KNOWN = re.compile(
    r"(?:iso-?8859-?(?:[2-9]|1[0-6])|(?:windows|cp)-?(?:125[0-8]|874|866|932|936|949|950)|koi8-[ru]|shift_jis"
    r"|sjis|x-sjis|euc-(?:jp|kr)"
    r"|gb2312|gbk|gb18030|big5|macintosh)$"
)
_WESTERN = frozenset(("iso-8859-1", "iso8859-1", "latin1", "latin-1", "us-ascii", "ascii", "windows-1252", "cp1252"))
_PYTHON_NAMES = {
    "x-sjis": "shift_jis",
    "sjis": "shift_jis",
    "macintosh": "mac_roman",
    "windows-874": "cp874",
    "gb2312": "gb18030",
}


def read_bytes(data: bytes) -> str:
    """Return the text in a saved file.

    Raises
    ------
    UnreadableRecipe
        If the file is empty, larger than 10 MB, or of a kind that is no text; the message says what to do instead.

    Notes
    -----
    A byte-order mark decides; then valid UTF-8; then what the page declares; then Windows-1252, which the WHATWG Encoding
    Standard gives pages that declare Latin-1 or nothing.

    Examples
    --------
    >>> read_bytes("Crème".encode("utf-16"))
    'Crème'
    >>> read_bytes(b"Cr\\xe8me \\x96 1 l")
    'Crème – 1 l'
    """
    _refuse(data)
    for mark, name in ((b"\xef\xbb\xbf", "utf-8"), (b"\xff\xfe", "utf-16-le"), (b"\xfe\xff", "utf-16-be")):
        if data.startswith(mark):
            return data[len(mark) :].decode(name, "replace")
    wide = _without_mark(data[:_LOOKED_AT])
    if wide:
        return data.decode(wide, "replace")
    if data.count(0, 0, _LOOKED_AT) > 8:
        raise UnreadableRecipe(f"This file is not text. {_WHAT_TO_DO}")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return data.decode(_declared(data[:_LOOKED_AT]), "replace")


def _refuse(data: bytes) -> None:
    if not data.strip():
        raise UnreadableRecipe("This file is empty. Choose another, or paste the recipe's text.")
    if len(data) > MOST_BYTES:
        raise UnreadableRecipe(f"This file has {len(data) / 1024 / 1024:.0f} MB; 10 MB fit. {_WHAT_TO_DO}")
    for start, kind in _KINDS:
        if data.startswith(start):
            raise UnreadableRecipe(f"This file is {kind}, not a saved page. {_WHAT_TO_DO}")
    if data[:4] == b"RIFF":
        raise UnreadableRecipe(f"This file is a picture or a recording, not a saved page. {_WHAT_TO_DO}")
    if b"multipart/related" in data[:_LOOKED_AT] and b"MIME-Version:" in data[:_LOOKED_AT]:
        raise UnreadableRecipe("This file is a web archive of many parts. Save the page again as “web page, HTML only”.")


def _without_mark(start: bytes) -> str:
    """Return the name of two-byte text without a mark: every other byte is null in western letters."""
    half = len(start) // 2
    even, odd = start[0::2].count(0), start[1::2].count(0)
    if half < 8:
        return ""
    if odd > 0.6 * half and even < 0.1 * half:
        return "utf-16-le"
    return "utf-16-be" if even > 0.6 * half and odd < 0.1 * half else ""


def _declared(start: bytes) -> str:
    found = _XML_ENCODING.search(start) or _CHARSET.search(start)
    name = found[1].decode("ascii").lower() if found else ""
    if name in ("utf-8", "utf8"):
        return "utf-8"
    if name in _WESTERN or not _KNOWN.match(name):
        return "cp1252"
    return _PYTHON_NAMES.get(name, name)
