"""The editor's page as typed."""

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


def test_steps_move_and_stop_at_the_ends():
    draft = typed("a", "b", "c")
    assert texts(draft.with_step_moved(2, -1)) == ["a", "c", "b"]
    assert texts(draft.with_step_moved(0, 1)) == ["b", "a", "c"]
    assert draft.with_step_moved(0, -1) is draft
    assert draft.with_step_moved(2, 1) is draft
    assert draft.with_step_moved(99, -1) is draft
    assert texts(draft.without_step(1)) == ["a", "c"]
    assert texts(draft.without_step(7)) == ["a", "b", "c"]


def test_a_new_step_takes_the_last_one_s_stage_and_counts_only_when_written():
    draft = TypedDraft(steps=({**dict.fromkeys(STEP_FIELDS, ""), "text": "a", "stage": "bake"},)).with_step()
    assert draft.steps[1]["stage"] == "bake"
    assert len(draft.written_steps()) == 1


def test_pasted_steps_take_the_place_of_empty_ones():
    draft = TypedDraft(
        head={"pasted_steps": "1. Chop.\n2) Fry.\nStep 3: Eat."}, steps=typed("first", "").steps
    ).with_pasted_steps()
    assert texts(draft) == ["first", "Chop.", "Fry.", "Eat."]
    assert draft.head["pasted_steps"] == ""


def test_numbers_that_belong_to_the_words_stay():
    assert split_steps("2 onions go in first.\n10 minutes later, stir.") == ["2 onions go in first.", "10 minutes later, stir."]
    assert split_steps(" \n\n ") == []


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
