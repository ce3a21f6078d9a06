"""Every address of the site; each app lists its own."""

from django.contrib import admin
from django.urls import include, path

urlpatterns = [
    path("", include("costing.urls")),
    path("", include("energy.urls")),
    path("", include("kitchen.urls")),
    path("bench/tables/", admin.site.urls),
]

handler400 = "deploy.errors.bad_request"
handler403 = "deploy.errors.forbidden"
handler404 = "deploy.errors.not_found"
handler500 = "deploy.errors.broken"
