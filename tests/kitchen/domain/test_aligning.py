"""Which line of one revision is which of another."""

from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.aligning import align_lines, align_steps, moved
from kitchen.domain.facts import FoodFacts, LineFacts, StepFacts

TEXTS = st.lists(st.text(alphabet="abc ", min_size=1, max_size=8), max_size=8)


def lines(*texts):
    return [LineFacts(text) for text in texts]


def test_a_line_is_known_by_its_text_then_its_name_then_its_food_then_its_place():
    onion = FoodFacts("onion")
    old = [LineFacts("salt"), LineFacts("2 eggs", name="eggs"), LineFacts("1 shallot", food=onion), LineFacts("juice of a lemon")]
    new = [LineFacts("juice of one lemon"), LineFacts("1 onion", food=onion), LineFacts("3 eggs", name="Eggs"), LineFacts("salt")]
    paired = {pair for pair in align_lines(old, new) if None not in pair}
    assert paired == {(0, 3), (1, 2), (2, 1)}  # the lemon stands among other neighbours, so nothing is guessed
    assert align_lines(old[3:], new[:1]) == [(0, 0)]


def test_what_is_gone_stands_where_it_stood():
    assert align_lines(lines("a", "bbbb", "c"), lines("a", "c")) == [(0, 0), (1, None), (2, 1)]
    assert align_lines(lines("aaaa", "b"), lines("b", "cccc")) == [(0, None), (1, 0), (None, 1)]


def test_the_fewest_that_have_to_be_put_back_have_moved():
    pairs = align_lines(lines("a", "b", "c", "d"), lines("d", "a", "b", "c"))
    assert moved(pairs) == {0}
    assert moved(align_lines(lines("a", "b"), lines("a", "b"))) == set()


def test_steps_are_paired_by_their_words():
    old = [StepFacts("Brown the onions in the oil."), StepFacts("Leave it alone."), StepFacts("Serve.")]
    new = [StepFacts("Serve."), StepFacts("Brown the onions well in the oil.")]
    assert (0, 1) in align_steps(old, new)
    assert (2, 0) in align_steps(old, new)
    assert (1, None) in align_steps(old, new)


@given(TEXTS, TEXTS)
def test_every_line_stands_in_one_row(old, new):
    for pairs in (align_lines(lines(*old), lines(*new)), align_steps([*map(StepFacts, old)], [*map(StepFacts, new)])):
        assert sorted(left for left, _ in pairs if left is not None) == list(range(len(old)))
        assert [right for _, right in pairs if right is not None] == list(range(len(new)))


@given(TEXTS, TEXTS)
def test_nothing_moves_where_nothing_crosses(old, new):
    pairs = align_lines(lines(*old), lines(*new))
    lefts = [left for left, right in pairs if left is not None and right not in moved(pairs) and right is not None]
    assert lefts == sorted(lefts)
