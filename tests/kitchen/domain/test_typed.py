"""The editor's page as typed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.typed import STEP_FIELDS, TypedDraft, split_steps


def typed(*texts):
    return TypedDraft(steps=tuple({**dict.fromkeys(STEP_FIELDS, ""), "text": text} for text in texts))


def texts(draft):
    return [step["text"] for step in draft.steps]


def test_fields_come_back_in_the_order_of_their_numbers():
    fields = {"title": "Pot", "step-10-text": "c", "step-2-text": "a", "step-9-text": "b", "part-0-lines": "1 egg", "evil": "x"}
    draft = TypedDraft.from_fields(fields)
    assert texts(draft) == ["a", "b", "c"]
    assert draft.as_fields()["step-2-text"] == "c"
    assert draft.parts == ({"title": "", "lines": "1 egg"},)
    assert "evil" not in draft.as_fields()


def test_null_characters_and_foreign_line_ends_are_taken_out():
    draft = TypedDraft.from_fields({"title": "P\x00ot", "part-0-lines": "a\r\nb\rc"})
    assert draft.head["title"] == "Pot"
    assert draft.parts[0]["lines"] == "a\nb\nc"


def test_rows_move_and_stop_at_the_ends():
    draft = typed("a", "b", "c")
    assert texts(draft.with_row_moved("step", 2, 1)) == ["a", "c", "b"]
    assert texts(draft.with_row_moved("step", 0, 2)) == ["b", "c", "a"]
    assert draft.with_row_moved("step", 0, -1) is draft
    assert draft.with_row_moved("step", 2, 3) is draft
    assert draft.with_row_moved("part", 0, 0) is draft
    assert texts(draft.without_row("step", 1)) == ["a", "c"]
    assert texts(draft.without_row("step", 7)) == ["a", "b", "c"]
    assert texts(draft.with_row("step", 1, {"text": "x", "evil": "y"})) == ["a", "x", "b", "c"]
    assert "evil" not in draft.with_row("step", 1, {"evil": "y"}).steps[1]


def test_a_new_step_is_empty_and_counts_only_when_written():
    draft = TypedDraft(steps=({**dict.fromkeys(STEP_FIELDS, ""), "text": "a", "stage": "bake"},)).with_step()
    assert set(draft.steps[1].values()) == {""}
    assert len(draft.written_steps()) == 1


def test_words_are_read_into_empty_fields_once_and_never_over_the_cook_s_own():
    step = {**dict.fromkeys(STEP_FIELDS, ""), "text": "Bake at 375 °F for 25 to 30 minutes.", "minutes": "28"}
    read = TypedDraft(steps=(step, {**step, "text": ""})).with_readings()
    assert read.steps[0] == {**step, "stage": "bake", "temp_c": "191", "read": "1"}
    assert read.steps[1]["read"] == "", "what says nothing yet is read later"
    cleared = TypedDraft(steps=({**read.steps[0], "stage": ""},))
    assert cleared.with_readings() == cleared, "what was left empty stays so"
    assert cleared.with_reading(0).steps[0]["stage"] == "bake", "unless it is asked for"
    assert cleared.with_reading(4) == cleared


def test_pasted_steps_take_the_place_of_empty_ones():
    draft = TypedDraft(
        head={"pasted_steps": "1. Chop.\n2) Fry.\nStep 3: Eat."}, steps=typed("first", "").steps
    ).with_pasted_steps()
    assert texts(draft) == ["first", "Chop.", "Fry.", "Eat."]
    assert draft.head["pasted_steps"] == ""


def test_numbers_that_belong_to_the_words_stay():
    assert split_steps("2 onions go in first.\n10 minutes later, stir.") == ["2 onions go in first.", "10 minutes later, stir."]
    assert split_steps(" \n\n ") == []


@pytest.mark.parametrize(
    ("pasted", "steps"),
    [
        ("1. Chop.\n2. Fry it\nuntil brown.\n3. Eat.", ["Chop.", "Fry it until brown.", "Eat."]),
        ("1) Chop.\n\n2) Fry.\n\nServe at once.", ["Chop.", "Fry.", "Serve at once."]),
        ("Step 1\nChop.\n\nStep 2:\nFry 1.5 kg.", ["Chop.", "Fry 1.5 kg."]),
        ("- Chop.\n- Fry.", ["Chop.", "Fry."]),
        ("\u2022 Chop.\n\u2022 Fry\n  gently.", ["Chop.", "Fry gently."]),
        ("Chop.\nFry.\nEat.", ["Chop.", "Fry.", "Eat."]),
        ("Chop\nfinely.\n\nFry.", ["Chop finely.", "Fry."]),
        ("Before you start, soak them.\n1. Chop.\n2. Fry.", ["Before you start, soak them.", "Chop.", "Fry."]),
        ("1. Chop.\r\n2. Fry.\r\n", ["Chop.", "Fry."]),
    ],
)
def test_pasted_methods_of_every_kind_are_split(pasted, steps):
    assert split_steps(pasted) == steps


@given(st.text(alphabet="ab \n1.)-", max_size=60))
def test_splitting_loses_no_words(text):
    letters = [letter for letter in text if letter in "ab"]
    assert [letter for step in split_steps(text) for letter in step if letter in "ab"] == letters


@given(st.dictionaries(st.from_regex(r"(part|step)-[0-9]{1,3}-(text|lines|title|stage)", fullmatch=True), st.text(max_size=20)))
def test_a_draft_survives_its_own_fields(fields):
    draft = TypedDraft.from_fields(fields)
    assert TypedDraft.from_fields(draft.as_fields()) == draft


def test_more_pasted_steps_than_a_page_can_show_stay_in_their_field():
    draft = TypedDraft(head={"pasted_steps": "Stir.\n" * 201}).with_pasted_steps()
    assert texts(draft) == []
    assert draft.head["pasted_steps"].count("Stir.") == 201
    assert len(texts(TypedDraft(head={"pasted_steps": "Stir.\n" * 200}).with_pasted_steps())) == 200


def test_more_rows_than_a_browser_can_send_are_not_read():
    draft = TypedDraft.from_fields({f"step-{number}-text": "Stir." for number in range(2000)})
    assert len(draft.steps) == 600
