"""Addresses of meters' files, and marking stages on the curve."""

from django.urls import URLPattern, path

from energy.meters.views import file_cooks, file_shapes, files
from energy.runs.views import marking

urlpatterns: list[URLPattern] = [
    path("bench/runs/<int:pk>/log/", files.log_send, name="run-log"),
    path("bench/runs/<int:pk>/log/<str:token>/", files.log_look, name="log-look"),
    path("bench/runs/<int:pk>/log/<str:token>/read/", files.log_read, name="log-read"),
    path("bench/runs/<int:pk>/log/<str:token>/progress/", files.log_progress, name="log-progress"),
    path("bench/runs/<int:pk>/log/<int:number>/take-out/", files.log_take_out, name="log-take-out"),
    path("bench/runs/<int:pk>/log/<int:number>/confirm/", files.log_confirm, name="log-confirm"),
    path("bench/recipes/<slug:slug>/runs/from-file/", file_cooks.cooks_send, name="cooks-send"),
    path("bench/recipes/<slug:slug>/runs/from-file/kept/", file_cooks.cooks_kept, name="cooks-kept"),
    path("bench/recipes/<slug:slug>/runs/from-file/undo/", file_cooks.cooks_undo, name="cooks-undo"),
    path("bench/recipes/<slug:slug>/runs/from-file/<str:token>/", file_cooks.cooks_look, name="cooks-look"),
    path("bench/recipes/<slug:slug>/runs/from-file/<str:token>/cooks/", file_cooks.cooks_cut, name="cooks-cut"),
    path("bench/recipes/<slug:slug>/runs/from-file/<str:token>/progress/", file_cooks.cooks_progress, name="cooks-progress"),
    path("bench/files/shapes/", file_shapes.shape_list, name="file-shapes"),
    path("bench/files/shapes/put-back/", file_shapes.shape_put_back, name="shape-put-back"),
    path("bench/files/shapes/<int:pk>/", file_shapes.shape_edit, name="shape-edit"),
    path("bench/files/shapes/<int:pk>/remove/", file_shapes.shape_remove, name="shape-remove"),
    path("bench/runs/<int:pk>/marks/", marking.run_marks, name="run-marks"),
    path("bench/runs/<int:pk>/marks/undo/", marking.run_unmark, name="run-unmark"),
]
