"""Addresses of the run desk: a cook in progress, and what keeps it usable without a signal."""

from django.urls import URLPattern, path

from energy.runs.views import desk, offline

urlpatterns: list[URLPattern] = [
    path("bench/recipes/<slug:slug>/cook/", desk.cook_start, name="cook-start"),
    path("bench/recipes/<slug:slug>/along/", desk.recipe_along, name="recipe-along"),
    path("bench/runs/<int:pk>/desk/", desk.desk, name="desk"),
    path("bench/device/", offline.device, name="device"),
    path("desk-shell/", offline.desk_shell, name="desk-shell"),
    path("offline/", offline.offline_page, name="offline"),
    path("worker.js", offline.worker, name="worker"),
]
