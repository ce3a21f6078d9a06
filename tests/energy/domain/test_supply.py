"""What feeds the cooker, and whether it runs."""

import pytest

from energy.domain.facts import SourceFacts
from energy.domain.supply import source_verdict, supply_for
from tests.energy.domain.cooks import HOOK_UP, STATION, facts


def test_the_kitchens_own_source_with_its_own_figures():
    supply = supply_for(facts(), {})
    assert (supply.name, supply.capacity_wh, supply.idle_w, supply.reserve_pct) == (STATION.name, 1024, 9, 10)
    assert supply.notes == ()


def test_a_rating_in_watts_wins_over_volts_and_amps():
    both = SourceFacts("a post", "hook_up", continuous_w=1000, volts=230, amps=16)
    assert source_verdict(both, 950).word == "tight"
    assert source_verdict(HOOK_UP, 950).word == "runs"
    assert source_verdict(HOOK_UP, 1400).word == "no"


@pytest.mark.parametrize(
    ("peak_w", "seen", "judged_w"), [(690, True, 690), (690, False, 1000), (1100, False, 1100), (None, False, 1000)]
)
def test_the_watts_that_are_judged(peak_w, seen, judged_w):
    supply = supply_for(facts(peak_w=peak_w, peak_seen=seen), {"inverter_w": 2000})
    assert supply.verdict.share_pct == pytest.approx(judged_w / 20)
    assert bool(supply.notes) is (judged_w == 1000)
