"""Addresses of the energy app: gear, runs, and the public pages about measuring."""

from django.urls import URLPattern, path

from energy.estimates import views as public
from energy.gear import views as gear
from energy.runs.views import portions, recording, runs
from energy.urls import api, compare, desk, files, sheet, tariffs

app_name = "energy"


def _gear(sort: str) -> list[URLPattern]:
    """Return the four addresses of one sort of gear."""
    given = {"sort": sort}
    return [
        path(f"bench/{sort}/", gear.gear_list, given, name=sort),
        path(f"bench/{sort}/new/", gear.gear_new, given, name=f"{sort}-new"),
        path(f"bench/{sort}/<int:pk>/", gear.gear_edit, given, name=f"{sort}-edit"),
        path(f"bench/{sort}/<int:pk>/remove/", gear.gear_remove, given, name=f"{sort}-remove"),
    ]


urlpatterns: list[URLPattern] = [
    path("bench/gear/", gear.gear_page, name="gear"),
    *_gear("appliances"),
    *_gear("sources"),
    path("bench/sources/<int:pk>/charge/", gear.source_charge, name="source-charge"),
    *_gear("meters"),
    *_gear("tariffs"),
    path("bench/runs/", runs.run_list, name="runs"),
    path("bench/runs/<int:pk>/", runs.run_page, name="run"),
    path("bench/runs/<int:pk>/verdict/", runs.run_verdict, name="run-verdict"),
    path("bench/runs/<int:pk>/portions/", portions.run_portions, name="run-portions"),
    path("bench/runs/<int:pk>/edit/", runs.run_edit, name="run-edit"),
    path("bench/runs/<int:pk>/remove/", runs.run_remove, name="run-remove"),
    path("bench/runs/<int:pk>/readings/", recording.reading_add, name="reading-add"),
    path("bench/runs/<int:pk>/readings/put-back/", recording.reading_put_back, name="reading-put-back"),
    path("bench/runs/<int:pk>/readings/<uuid:key>/", recording.reading_edit, name="reading-edit"),
    path("bench/runs/<int:pk>/readings/<uuid:key>/remove/", recording.reading_remove, name="reading-remove"),
    path("bench/runs/<int:pk>/stages/", recording.stages_edit, name="run-stages"),
    path("bench/runs/<int:pk>/stages/next/", recording.stage_next, name="stage-next"),
    path("bench/runs/<int:pk>/finish/", recording.run_finish, name="run-finish"),
    path("bench/recipes/<slug:slug>/runs/", runs.recipe_runs, name="recipe-runs"),
    path("bench/recipes/<slug:slug>/runs/new/", recording.run_new, name="run-new"),
    path("r/<slug:slug>/runs/", public.how_measured, name="how-measured"),
    path("r/<slug:slug>/runs.csv", public.runs_as_csv, name="runs-csv"),
    path("method/", public.method, name="method"),
    *desk.urlpatterns,
    *api.urlpatterns,
    *files.urlpatterns,
    *compare.urlpatterns,
    *sheet.urlpatterns,
    *tariffs.urlpatterns,
]
