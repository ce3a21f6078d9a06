"""What was done to shared things and accounts, in words."""

from __future__ import annotations

from kitchen.words.remarks import sentence
from kitchen.words.sentences import Language


def change_words(kind: str, done: str, name: str, one: str, language: Language) -> str:
    """Return what was done, to follow the name of whoever did it.

    Examples
    --------
    >>> change_words("pan", "put_back", "Big pan", "pan", "en"), change_words("account", "closed", "bo", "account", "en")
    ('put the pan “Big pan” back', 'closed the account of bo')
    """
    code = f"account_{done}" if kind == "account" else f"thing_{done}"
    return sentence(language, code, name=name, one=one)
