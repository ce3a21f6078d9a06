"""The cook's word to a recipe's cautions: on the bench, on the page, on paper, in the next revision and in an archive."""

import io
import re
from datetime import timedelta
from fractions import Fraction

import pytest
from pypdf import PdfReader

from kitchen.models import Line, Part, Recipe
from kitchen.operations import DraftClash, open_draft, publish_recipe, say_cautions
from tests.kitchen.packed import pack, unpack
from tests.kitchen.stew import write_stew

BENCH = "/bench/recipes/stew/cautions/"
ANSWER = {"state": "tinned", "reason": "two tins"}
OWN = "The hut’s stove smokes: open the flue first."


@pytest.fixture
def beans(owner, noon):
    """The stew with a line of beans that calls for a caution."""
    recipe = write_stew(owner, noon)
    part = Part.objects.filter(revision__recipe=recipe).first()
    exact = Fraction(200)
    text = "200 g kidney beans"
    Line.objects.create(part=part, position=9, text=text, name="kidney beans", low=exact, high=exact, unit="g")
    return recipe


def line_of(recipe):
    lines = Line.objects.filter(part__revision__recipe=recipe, text="200 g kidney beans")
    return lines.order_by("-part__revision__number").first()


def say(recipe, owner, at, answered=ANSWER, own=OWN):
    say_cautions(recipe=recipe, answers={line_of(recipe).pk: answered}, own=own, by=owner, at=at)


def publish(recipe, owner, at):
    return publish_recipe(recipe=recipe, revision=recipe.revisions.order_by("-number").first(), by=owner, at=at)


def cautions(client, place):
    body = client.get(place).content.decode()
    section = re.search(r'aria-labelledby="cautions">(.*?)</section>', body, re.S)[1]
    return " ".join(re.sub(r"<[^>]+>", " ", section).split())


def test_the_bench_lists_the_line_and_keeps_the_answer(beans, owner_client, other_client):
    page = owner_client.get(BENCH).content.decode()
    assert "Soak dried beans for 5 hours" in page
    number = line_of(beans).pk
    sent = {f"state-{number}": "tinned", f"reason-{number}": "two tins", "own": OWN}
    assert owner_client.post(BENCH, sent).status_code == 302
    assert line_of(beans).answered == ANSWER
    assert Recipe.objects.get(pk=beans.pk).own_cautions == OWN
    assert other_client.get(BENCH).status_code == 404


@pytest.mark.parametrize(
    ("state", "reason", "said"),
    [("", "two tins", "the caution still holds"), ("other", "", "Say why"), ("gone", "", "gone")],
)
def test_an_answer_that_says_nothing_is_refused_beside_its_field(beans, owner_client, state, reason, said):
    number = line_of(beans).pk
    answer = owner_client.post(BENCH, {f"state-{number}": state, f"reason-{number}": reason, "own": ""})
    assert answer.status_code == 200
    assert said in answer.content.decode()
    assert line_of(beans).answered == {}


def test_readers_see_the_word_and_the_caution(beans, owner, noon, stranger_client):
    publish(beans, owner, noon)
    assert "The cook says" not in cautions(stranger_client, "/r/stew/")
    say(beans, owner, noon)
    assert "The cook says" not in cautions(stranger_client, "/r/stew/"), "readers see it with the next edition"
    publish(beans, owner, noon + timedelta(days=1))
    for place in ("/r/stew/", "/r/stew/for-12/"):
        said = cautions(stranger_client, place)
        assert "The cook says: tinned, or cooked before: two tins (kidney beans)." in said
        assert "Soak dried beans for 5 hours" in said
        assert OWN in said


def test_a_locked_revision_is_left_alone_and_the_next_one_answered(beans, owner, noon):
    publish(beans, owner, noon)
    say(beans, owner, noon)
    answers = Line.objects.filter(text="200 g kidney beans").order_by("part__revision__number").values_list("answered", flat=True)
    assert list(answers) == [{}, ANSWER]
    publish(beans, owner, noon + timedelta(days=1))
    draft = open_draft(recipe=beans, by=owner, at=noon)
    assert draft.number == 3
    assert line_of(beans).answered == ANSWER


def test_an_answer_to_a_line_that_is_gone_writes_nothing(beans, owner, noon):
    with pytest.raises(DraftClash):
        say_cautions(recipe=beans, answers={0: ANSWER}, own=OWN, by=owner, at=noon)
    assert Recipe.objects.get(pk=beans.pk).own_cautions == ""


def test_an_archive_packs_both(beans, owner, noon):
    say(beans, owner, noon)
    packed = pack(noon)
    Recipe.objects.all().delete()
    unpack(packed, owner, noon)
    back = Recipe.objects.get(slug="stew")
    assert (back.own_cautions, line_of(back).answered) == (OWN, ANSWER)


def test_paper_has_the_short_sentences_and_the_way_to_the_others(beans, owner, noon, stranger_client):
    publish(beans, owner, noon)
    for size in ("a6", "4x6"):
        card = PdfReader(io.BytesIO(stranger_client.get(f"/r/stew/card.pdf?size={size}").content))
        words = " ".join(" ".join(side.extract_text() for side in card.pages).split())
        assert "Dried beans: soak 5 h, pour away, boil hard 30 min in fresh water. Undercooked ones are poisonous." in words
        assert re.search(r"\d+ more at the address on this card\.", words)
        assert len(card.pages) == 2


def test_an_older_edition_names_what_is_newer(beans, owner, noon, stranger_client):
    edition = publish(beans, owner, noon)
    edition.facts["cards"]["safety"] = {"schema": 1, "cautions": ["two_hours"]}
    edition.save()
    said = cautions(stranger_client, "/r/stew/")
    assert "Two hours at most between the cold box and the plate" in said
    assert re.search(r"Soak dried beans.*?make ill\. Newer than this edition\.", said)


def test_the_bench_says_that_only_cautions_were_answered(beans, owner, noon, owner_client):
    publish(beans, owner, noon)
    say(beans, owner, noon + timedelta(hours=1))
    page = owner_client.get("/bench/recipes/stew/").content.decode()
    assert "Cautions were answered otherwise." in page
    assert "Says the same as revision 1" not in page
