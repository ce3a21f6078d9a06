"""Reading what a phone sends: any bytes come to an object or to a sentence."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy.runs.domain.wire import Unfit, instant, number, read_object, shown, words

anything = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=10)),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=4), inner, max_size=3)),
    max_leaves=8,
)


def refused(read, what):
    """Return the refusal of something, or None where it is taken; any other fault is raised."""
    try:
        read(what)
    except Unfit as unfit:
        return unfit if str(unfit).endswith(".") else pytest.fail(str(unfit))
    return None


@given(st.binary(max_size=200))
def test_any_bytes_are_an_object_or_a_sentence(body):
    assert isinstance(read_object(body) if refused(read_object, body) is None else {}, dict)


@given(anything)
def test_any_value_is_shown_as_json_that_can_be_sent(value):
    json.dumps(shown(value), allow_nan=False).encode()


@pytest.mark.parametrize(
    "read", [lambda said: number(said, "x", 0, 10, "W"), lambda said: words(said, "x", 5), lambda said: instant(said, "x")]
)
@given(anything)
def test_any_value_is_taken_or_refused_by_name(read, value):
    unfit = refused(read, {"x": value})
    assert unfit is None or unfit.field == "x"


@pytest.mark.parametrize("text", ['{"a": 1, "a": 2}', "Infinity", '{"a": -Infinity}', "", "nul", '"' + "x" * 10])
def test_what_json_would_let_pass_is_refused(text):
    with pytest.raises(Unfit):
        read_object(text.encode())
