"""Addresses of the log sheet for pen and paper, and the grid that it is typed into."""

from django.urls import URLPattern, path

from energy.runs.views import sheet

urlpatterns: list[URLPattern] = [
    path("bench/recipes/<slug:slug>/log-sheet.pdf", sheet.log_sheet, name="log-sheet"),
    path("bench/runs/<int:pk>/rows/", sheet.run_rows, name="run-rows"),
    path("bench/runs/<int:pk>/rows/undo/", sheet.run_rows_undo, name="run-rows-undo"),
]
