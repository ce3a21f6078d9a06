"""Addresses of runs beside each other, which runs count, pictures of a run."""

from django.urls import URLPattern, path

from energy.cards.drawing_file import DRAWN
from energy.runs.views import choosing, comparing, pictures

urlpatterns: list[URLPattern] = [
    path("bench/recipes/<slug:slug>/runs/compare/", comparing.runs_compare, name="runs-compare"),
    path("bench/recipes/<slug:slug>/runs/choose/", choosing.runs_choose, name="runs-choose"),
    path("bench/runs/<int:pk>/count/", choosing.run_count, name="run-count"),
    path("bench/runs/<int:pk>/card.png", pictures.run_picture, name="run-picture"),
    *[
        path(
            f"r/<slug:slug>/{name}.{kind}",
            pictures.recipe_drawing,
            {"name": name, "kind": kind},
            name=f"recipe-{name}-{kind}",
        )
        for name in DRAWN
        for kind in ("svg", "png")
    ],
    path("r/<slug:slug>/card.png", pictures.recipe_picture, name="recipe-picture"),
]
