"""Words as they are kept and as they are asked for: what is kept under a word is found by asking for it."""

from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.search import LONGEST_WORD, MOST_WORDS, asked_words, fold, shelf_words


def finds(asked, kept):
    """Whether the kept words answer one that was asked, as the library decides it."""
    return any(
        word == spelling or (not asked.whole and word.startswith(spelling)) for word in kept for spelling in asked.spellings
    )


@given(st.text(max_size=60))
def test_a_title_is_found_by_its_own_words(title):
    kept = shelf_words([title])
    assert all(finds(asked, kept) for asked in asked_words(title))
    assert all(0 < len(word) <= LONGEST_WORD for word in kept)


@given(st.text(max_size=60))
def test_folding_twice_is_folding_once(text):
    assert fold(fold(text)) == fold(text)


def test_a_plural_finds_the_singular_and_the_other_way_round():
    for one, many in (("leaf", "leaves"), ("tomato", "tomatoes"), ("onion", "onions")):
        assert finds(asked_words(many)[0], shelf_words([one]))
        assert finds(asked_words(one)[0], shelf_words([many]))


def test_no_more_words_are_asked_than_a_person_types():
    assert len(asked_words("word " * 100)) == MOST_WORDS
