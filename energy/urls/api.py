"""Addresses of what phones and devices send."""

from django.urls import URLPattern, path

from energy.meters.views import api_devices, devices, waiting
from energy.runs.views import api

urlpatterns: list[URLPattern] = [
    path("bench/meters/<int:pk>/devices/", devices.device_list, name="devices"),
    path("bench/meters/<int:pk>/devices/<int:device>/revoke/", devices.device_revoke, name="device-revoke"),
    path("bench/runs/<int:pk>/sent/<int:device>/", waiting.run_waiting, name="run-waiting"),
    path("api/v1/readings", api_devices.readings, name="api-readings"),
    path("api/v1/session", api.session, name="api-session"),
    path("api/v1/cooks/<uuid:key>", api.cook, name="api-cook"),
    path("api/v1/runs/<str:run>", api.run_as_it_stands, name="api-run"),
    path("api/v1/runs/<str:run>/live", api.live, name="api-live"),
    path("api/v1/runs/<str:run>/photos/<uuid:key>", api.photo, name="api-photo"),
    path("api/v1/runs/<str:run>/events/<uuid:key>", api.event, name="api-event"),
    path("api/v1/runs/<str:run>/readings/<uuid:key>", api.event, {"kind": "reading"}, name="api-reading"),
]
