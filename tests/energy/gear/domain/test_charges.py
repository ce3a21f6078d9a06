"""Charges for several meals, held to a count by hand and to what must always be so."""

import math

from hypothesis import given
from hypothesis import strategies as st

from energy.gear.domain.charges import charges_for

shares = st.lists(st.tuples(st.floats(0, 150), st.floats(0, 60)).map(lambda one: (one[0], sum(one))), max_size=8)


def by_hand(loads, room):
    """Return how many charges meals take, the plain way: one after the other, a fresh charge where one does not fit."""
    charges, left = 0, 0.0
    for load in loads:
        if load > left + 1e-9:
            charges, left = charges + 1, room
        over = math.ceil(max(0.0, load - left) / room - 1e-9)
        charges, left = charges + over, left + over * room - load
    return charges


@given(shares, st.floats(0, 90))
def test_the_ends_are_those_that_a_count_by_hand_gives(meals, reserve):
    found, room = charges_for(meals, reserve), 100 - reserve
    lows, highs = [low for low, _ in meals], [high for _, high in meals]
    assert found.fewest <= found.most
    assert abs(found.fewest - by_hand(lows, room)) <= any(low == 0 for low in lows)
    assert abs(found.most - by_hand(highs, room)) <= any(high == 0 for high in highs)
    assert all(one.earliest <= one.latest for one in found.served)


@given(shares)
def test_what_is_not_known_of_one_meal_leaves_all_after_it_open(meals):
    found = charges_for([*meals, None, (10.0, 12.0)])
    assert found.most is None
    assert found.served[-1].latest is None
    assert found.first_may is not None
    assert found.fewest >= charges_for(meals).fewest
