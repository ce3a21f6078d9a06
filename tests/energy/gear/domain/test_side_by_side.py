"""Two cookers on one source: peaks add up, and the second may start where there is room."""

from energy.facts import SourceFacts
from energy.gear.domain.side_by_side import side_by_side, source_limit_w
from kitchen.domain.remark import remark
from tests.energy.estimates.domain.cooks import facts


def codes(beside_w, limit_w):
    return [one.code for one in side_by_side(facts(), beside_w, limit_w)]


def test_with_room_both_run():
    both = {"beside_w": 200, "peak_w": 690, "together_w": 890, "share_pct": 100 * 890 / 1500, "limit_w": 1500}
    assert side_by_side(facts(), 200, 1500) == (remark("both_run", **both),)


def test_at_ninety_per_cent_it_is_tight():
    assert codes(209, 1000) == ["both_run"]
    assert codes(210, 1000)[0] == "both_tight"


def test_too_much_names_the_stage_from_which_there_is_room():
    much, later = side_by_side(facts(), 500, 1000)
    assert (much.code, much.values["share_pct"]) == ("both_too_much", 119)
    assert later == remark("start_other_later", span_s=28 * 60, stage="rest")


def test_the_other_one_alone_may_be_too_much():
    assert codes(990, 1000)[1] == "no_room_alone"


def test_an_element_that_draws_all_to_the_end_leaves_no_room():
    hot = facts(stages=facts().stages[:2])
    assert [one.code for one in side_by_side(hot, 500, 1000)] == ["both_too_much", "one_after_other"]


def test_an_unknown_rating_says_so():
    assert codes(200, None) == ["beside_unknown"]


def test_the_limit_is_the_readers_inverter_else_a_rating_else_volts_times_amps():
    hook_up = SourceFacts("pitch 7", "hook_up", volts=230, amps=10)
    assert source_limit_w(hook_up, None) == (2300, "pitch 7")
    assert source_limit_w(hook_up, 600) == (600, remark("your_inverter"))
    assert source_limit_w(SourceFacts("a wall", "mains"), None) == (None, "a wall")
