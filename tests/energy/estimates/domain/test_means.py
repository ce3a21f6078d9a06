"""The same dish by other means: heat over efficiency, and fuel by its heating value."""

import pytest

from energy.cards.means import all_means
from energy.estimates.domain.means import by_other_means, fuel_g, share_of_a_day
from energy.heat.balance_facts import HeatModel
from energy.kinds import APPLIANCE_KINDS, appliance_kind

POT = HeatModel(until=1, food_j_per_k=7800, vessel_j_per_k=750, food_start_c=20, vessel_start_c=20, ambient_c=20, end_c=100)


def test_the_heat_is_spent_by_the_share_that_reaches_the_pot():
    for one in by_other_means(POT, all_means(), k=1, measured=""):
        assert one.low_wh == pytest.approx(POT.needed_wh / one.means.high)
        assert one.high_wh == pytest.approx(POT.needed_wh / one.means.low)
        assert (one.low_g is None) is (one.means.fuel is None)


def test_the_measured_kind_is_not_compared_with_itself():
    keys = {one.means.key for one in by_other_means(POT, all_means(), k=1, measured="induction")}
    assert "induction" not in keys
    assert {"propane", "butane", "plate"} <= keys


def test_a_kilogram_of_propane_burnt_without_loss_is_its_heating_value():
    """Lower heating value of propane 46.35 MJ/kg (handbook tables)."""
    assert fuel_g(46.35e3 / 3.6, 46.35, 1.0) == pytest.approx(1000)


def test_without_a_balance_nothing_is_compared():
    assert by_other_means(None, all_means(), k=1, measured="") == ()
    assert by_other_means(HeatModel(why_not="Dry heat."), all_means(), k=1, measured="") == ()


def test_the_file_names_a_source_and_known_kinds_for_every_way():
    assert {appliance_kind(key).means for key, _ in APPLIANCE_KINDS} <= {"", *(means.key for means in all_means())}
    for means in all_means():
        assert means.source
        assert 0 < means.low < means.high <= 1
        assert means.fuel is None or means.fuel.basis


@pytest.mark.parametrize("bad", [(-1, 46, 0.4), (10, 0, 0.4), (10, 46, 0), (10, 46, 1.1)])
def test_nonsense_is_refused(bad):
    with pytest.raises(ValueError, match="needed"):
        fuel_g(*bad)


def test_a_day_at_home():
    assert share_of_a_day(2_700_000 / 365) == pytest.approx(100)
