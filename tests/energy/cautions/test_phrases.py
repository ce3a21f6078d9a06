"""The longest name wins, whatever its spelling; what is in the file can be found."""

import pytest

from energy.cautions.phrases import is_lean_share, noun_kinds, read_clauses


def kinds(text):
    return [sorted(piece.kinds) for clause in read_clauses(text) for piece in clause.pieces if piece.kinds & noun_kinds()]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("oyster mushrooms", [["plain"]]),
        ("Oysters", [["bivalve"]]),
        ("lamb’s lettuce", [["plain"]]),
        ("lambs' kidneys", [["offal"]]),
        ("leg of lamb", [["meat"]]),
        ("Crème fraîche", [["dairy"]]),
        ("bone-in chicken", [["poultry"]]),
        ("ribs", [["meat_part"]]),
        ("rib", []),
        ("Rinderhackfleisch", [["ground", "meat"]]),
    ],
)
def test_the_longest_name_wins(text, found):
    assert kinds(text) == found


def test_a_line_falls_into_segments():
    joiners = [clause.joiner for clause in read_clauses("pork, beans and peas (or lentils) for the 1/2 pot")]
    assert joiners == ["", ",", "and", "or", "for"]


def test_a_share_of_fat_is_said_of_mince():
    assert is_lean_share("500 g beef, 12 % fat")
    assert not is_lean_share("1/2 chicken")
    assert not is_lean_share("100 % pork")
