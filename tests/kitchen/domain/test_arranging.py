"""The editor's buttons, and that each change of rows can be taken back without losing a word."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.arranging import Undo, arranged, read_undo
from kitchen.domain.remark import remark
from kitchen.domain.typed import PART_FIELDS, STEP_FIELDS, TypedDraft

PARTS = (("", "2 eggs\n1 onion"), ("Sauce", "1 lemon"), ("", "salt"))


def page(steps=("a", "b", "c"), parts=PARTS, pasted=""):
    return TypedDraft(
        {"pasted_steps": pasted},
        tuple(dict(zip(PART_FIELDS, part, strict=True)) for part in parts),
        tuple({**dict.fromkeys(STEP_FIELDS, ""), "text": text} for text in steps),
    )


def texts(typed):
    return [step["text"] for step in typed.steps]


WISHES = st.from_regex(r"(step|part)-[0-4]-(up|down|remove|join)", fullmatch=True)


@given(WISHES)
def test_every_button_can_be_undone(wish):
    changed, undo = arranged(page(), wish)
    if undo is None:
        assert changed == page()
    else:
        assert changed != page()
        assert arranged(changed, "undo", read_undo(undo.as_text())) == (page(), None)


def test_what_was_typed_since_stays_when_a_removal_is_undone():
    gone, undo = arranged(page(), "step-1-remove")
    since = TypedDraft(gone.head, gone.parts, ({**gone.steps[0], "text": "a, well stirred"}, gone.steps[1]))
    assert texts(arranged(since, "undo", undo)[0]) == ["a, well stirred", "b", "c"]


def test_joining_keeps_lines_and_a_heading():
    joined, undo = arranged(page(), "part-1-join")
    assert joined.parts[0] == {"title": "Sauce", "lines": "2 eggs\n1 onion\n1 lemon"}
    assert undo.said == remark("parts_joined", below=2, above=1)
    more = TypedDraft(joined.head, ({"title": "Sauce", "lines": "2 eggs\n1 onion\n2 lemons"}, joined.parts[1]), joined.steps)
    split = arranged(more, "undo", undo)[0]
    assert [part["lines"] for part in split.parts] == ["2 eggs\n1 onion\n2 lemons", "1 lemon", "salt"]
    assert arranged(page(), "part-0-join") == (page(), None)


def test_pasted_steps_go_back_into_their_field():
    made, undo = arranged(page(steps=("a",), pasted="1. Chop.\n2. Fry."), "paste-steps")
    assert (texts(made), undo.said) == (["a", "Chop.", "Fry."], remark("steps_made", steps=2))
    back, _ = arranged(made, "undo", undo)
    assert (texts(back), back.head["pasted_steps"]) == (["a"], "1. Chop.\n2. Fry.")
    timed = TypedDraft(made.head, made.parts, (*made.steps[:2], {**made.steps[2], "minutes": "5"}))
    back, _ = arranged(timed, "undo", undo)
    assert (texts(back), back.head["pasted_steps"]) == (["a", "Fry."], "Chop.")


def test_adding_a_row_leaves_the_last_undo():
    _, undo = arranged(page(), "step-1-remove")
    assert arranged(page(), "add-step", undo)[1] is undo
    assert arranged(page(), "add-part", undo)[1] is undo
    assert arranged(page(), "", undo) == (page(), undo)


def test_what_was_done_is_said():
    said = [arranged(page(), wish)[1].said for wish in ("step-2-up", "part-0-down", "part-2-remove")]
    assert said == [remark("step_moved", was=3, now=2), remark("part_moved", was=1, now=2), remark("part_removed", number=3)]
    assert arranged(page(pasted="Chop."), "save")[1].said.code == "one_step_made"


@pytest.mark.parametrize(
    "nonsense",
    [
        "",
        "x",
        "[]",
        "null",
        "[" * 5000,
        json.dumps(["put", "step", -1, 0, {}]),
        json.dumps(["put", "step", 10**9, 0, {}]),
        json.dumps(["put", "step", True, 0, {}]),
        json.dumps(["put", "shelf", 0, 0, {}]),
        json.dumps(["put", "step", 0, 0, {"text": 3}]),
        json.dumps(["put", "step", 0, 0, {"text": "\x00"}]),
        json.dumps(["drop", "step", 0, 0, {}]),
        "1" * 5000,
        "9" * 1_000_001,
        json.dumps(["put", "step", 0, 0, {}, "Step 1 was removed."]),
    ],
)
def test_what_no_page_sends_is_no_undo(nonsense):
    assert read_undo(nonsense) is None


@given(
    st.builds(
        Undo,
        does=st.sampled_from(["put", "move", "split", "unpaste"]),
        kind=st.sampled_from(["step", "part"]),
        place=st.integers(0, 9999),
        target=st.integers(0, 9999),
        row=st.dictionaries(st.sampled_from(["text", "lines", "title", "above"]), st.text(max_size=9)),
    )
)
def test_any_undo_that_can_be_sent_leaves_a_page(undo):
    done, left = arranged(page(), "undo", undo)
    assert left is None
    assert TypedDraft.from_fields(done.as_fields()).as_fields().keys() == done.as_fields().keys()
