"""What the energy app puts on the bench: its sections, and its group on a recipe's workbench."""

from __future__ import annotations

from energy.cards import EnergyCard
from energy.models import Run

CARD = EnergyCard()


def test_links_for_the_bench(revision, noon):
    sections = {section.label: [page.label for page in section.pages] for section in CARD.bench_sections()}
    assert sections == {"Cooks": ["All cooks", "Ways of reading files", "This device"], "Gear": ["All gear"]}
    part = CARD.workbench(revision.recipe, revision, at=noon)
    assert (part.state, part.next.url) == ("not cooked yet", "/bench/recipes/lentil-pot/cook/")
    assert [link.url for link in part.links][:2] == ["/bench/recipes/lentil-pot/cook/", "/bench/recipes/lentil-pot/runs/new/"]


def test_the_workbench_draws_the_cooks_on_one_scale_and_looks_at_the_odd_one_first(run, record, revision, noon):
    odd = record(later=1)
    Run.objects.filter(pk=odd.pk).update(flags=[{"code": "cut_short", "values": {"cooking_s": 1, "method_s": 9}}])
    part = CARD.workbench(revision.recipe, revision, at=noon)
    assert part.state == "cooked 2 times, 1 counting"
    assert part.next.label == "Look at the cook of 15 October 2026"
    drawn = part.context["cooks"]
    assert [(cook.run.pk, cook.standing) for cook in drawn] == [(odd.pk, "flagged"), (run.pk, "counts")]
    assert len({cook.band.parts for cook in drawn}) == 1, "the same watts for as long are drawn alike"
