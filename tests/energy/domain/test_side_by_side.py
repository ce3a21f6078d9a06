"""Two cookers on one source: peaks add up, and the second may start where there is room."""

from energy.domain.facts import SourceFacts
from energy.domain.side_by_side import side_by_side, source_limit_w
from tests.energy.domain.cooks import facts


def words(beside_w, limit_w):
    return side_by_side(facts(), beside_w, limit_w, "the station").replace("\u00a0", " ")


def test_with_room_both_run():
    assert (
        words(200, 1500)
        == "Beside a cooker of 200 W: 690 W and 200 W make 890 W, 59 % of the 1,500 W that the station gives: both run at once."
    )


def test_at_ninety_per_cent_it_is_tight():
    assert ": tight. " in words(210, 1000)


def test_too_much_names_the_stage_from_which_there_is_room():
    said = words(500, 1000)
    assert "119 %" in said
    assert "too much" in said
    assert "later" in said or "one after the other" in said


def test_the_other_one_alone_may_be_too_much():
    assert "no room even alone" in words(990, 1000)


def test_an_unknown_rating_says_so():
    assert "not known" in words(200, None)


def test_the_limit_is_the_readers_inverter_else_a_rating_else_volts_times_amps():
    hook_up = SourceFacts("pitch 7", "hook_up", volts=230, amps=10)
    assert source_limit_w(hook_up, None) == (2300, "pitch 7")
    assert source_limit_w(hook_up, 600) == (600, "your inverter")
    assert source_limit_w(SourceFacts("a wall", "mains"), None) == (None, "a wall")
