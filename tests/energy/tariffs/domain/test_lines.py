"""Bands and blocks as people type them."""

from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy.tariffs.domain.bill import Block
from energy.tariffs.domain.lines import UnreadLine, band_lines, block_words, read_bands, read_blocks
from energy.tariffs.domain.record import BandRecord


@pytest.mark.parametrize(
    ("line", "band"),
    [
        ("day 0.31", BandRecord("day", D("0.31"))),
        ("off-peak 0,076 19:00-07:00 Mon-Fri", BandRecord("off-peak", D("0.076"), 1140, 420, (0, 1, 2, 3, 4))),
        ("off-peak 0.076 Sat, Sun, holidays", BandRecord("off-peak", D("0.076"), 0, 0, (5, 6, 7))),
        ("winter day 0.31 7-22 Nov-Mar", BandRecord("winter day", D("0.31"), 420, 1320, (), (1, 2, 3, 11, 12))),
        ("peak 0.4 17:30 – 19:00 weekdays June", BandRecord("peak", D("0.4"), 1050, 1140, (0, 1, 2, 3, 4), (6,))),
        ("night 0.1 00:00-24:00", BandRecord("night", D("0.1"))),
        ("week end 0.2 Fri-Mon", BandRecord("week end", D("0.2"), 0, 0, (0, 4, 5, 6))),
    ],
)
def test_a_band_is_read(line, band):
    assert read_bands(line) == (band,)


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("night", "needs a name and then a price"),
        ("0.31", "needs a name"),
        ("day 0.3 25-26", "no window"),
        ("day 0.3 soon", "neither a window"),
        ("day 5000", "more than 1,000"),
    ],
)
def test_what_cannot_be_read_is_quoted_with_what_is_missing(line, words):
    with pytest.raises(UnreadLine, match=words) as said:
        read_bands(line)
    assert line in str(said.value)


@given(
    st.lists(
        st.builds(
            BandRecord,
            st.sampled_from(["off-peak", "day rate", "x"]),
            st.decimals(0, 999, places=5),
            st.integers(0, 1439),
            st.integers(1, 1439),
            st.sets(st.integers(0, 7)).map(lambda found: tuple(sorted(found))),
            st.sets(st.integers(1, 12)).map(lambda found: tuple(sorted(found))),
        ),
        max_size=6,
    )
)
def test_bands_come_back_as_they_were_written(bands):
    assert read_bands(band_lines(bands)) == tuple(bands)


@given(st.lists(st.integers(1, 5000), unique=True, max_size=5).map(sorted), st.decimals(0, 999, places=5))
def test_blocks_come_back_as_they_were_written(limits, price):
    blocks = (*(Block(price, D(limit)) for limit in limits), Block(price))
    assert read_blocks(block_words(blocks)) == blocks


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("0.09 to 800", "last block"),
        ("0.09 above\n0.1 above", "Only the last"),
        ("0.1 to 800\n0.2 to 700\n0.3 above", "must rise"),
        ("cheap", "should be a price"),
    ],
)
def test_blocks_that_make_no_tariff_say_why(text, words):
    with pytest.raises(UnreadLine, match=words):
        read_blocks(text)


@given(st.text(max_size=80), st.sampled_from([read_bands, read_blocks]))
def test_any_text_is_read_or_refused_in_words(text, reader):
    try:
        assert len(reader(text)) <= len(text.splitlines())
    except UnreadLine as refusal:
        said = str(refusal)
    else:
        said = "read"
    assert said
