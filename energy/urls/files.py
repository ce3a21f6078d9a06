"""Addresses of meters' files, and marking stages on the curve."""

from django.urls import URLPattern, path

from energy.views import marking

urlpatterns: list[URLPattern] = [
    path("bench/runs/<int:pk>/marks/", marking.run_marks, name="run-marks"),
    path("bench/runs/<int:pk>/marks/undo/", marking.run_unmark, name="run-unmark"),
]
