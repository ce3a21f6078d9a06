"""What a cook may say to the cautions that an ingredient line calls for."""

from __future__ import annotations

from collections.abc import Mapping

ANSWERS: tuple[tuple[str, str], ...] = (
    ("tinned", "tinned, or cooked before"),
    ("boiled", "already boiled hard"),
    ("ready", "ready to eat"),
    ("other", "no, for this reason"),
)
LONGEST_REASON = 120


def answer_words(answered: Mapping[str, str]) -> str:
    """Return the cook's word, empty where there is none.

    Examples
    --------
    >>> answer_words({"state": "boiled", "reason": ""}), answer_words({"state": "tinned", "reason": "the large tin"})
    ('already boiled hard', 'tinned, or cooked before: the large tin')
    >>> answer_words({"state": "other", "reason": "served as a soup of last week"})
    'served as a soup of last week'
    """
    state, reason = dict(ANSWERS).get(answered.get("state", ""), ""), answered.get("reason", "")
    if answered.get("state") == "other":
        return reason
    return ": ".join(filter(None, (state, reason)))
