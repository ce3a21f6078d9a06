"""How an estimate was worked out, as a reader sees it."""

from energy.domain.circumstances import Circumstances
from energy.domain.estimating import estimate
from energy.domain.working import boiling_words, working
from tests.energy.domain.test_estimating import balanced


def rows(servings=12, **other):
    _, balance = estimate(balanced(), servings, other=Circumstances(**other))
    return {row.words: row for row in working(balance).rows}, balance


def test_every_row_says_where_it_comes_from():
    told, _ = rows()
    assert {row.standing for row in told.values()} == {"measured", "assumed", "published", "worked out"}
    assert all(row.source for row in told.values())
    assert told["Food in the pot"].now == "2 ×"


def test_the_range_is_told_part_by_part():
    _, balance = rows()
    told = working(balance).range_rows
    assert any("meter" in words for words, _ in told)
    assert all(size.startswith("± ") for _, size in told)


def test_only_another_height_speaks_of_boiling():
    assert boiling_words(rows(altitude_m=2000)[1]).replace("\u00a0", " ") == "At 2,000 m it boils at 93 °C instead of 100 °C."
    assert boiling_words(rows(ambient_c=0)[1]) == ""
