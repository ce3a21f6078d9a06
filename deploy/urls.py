"""Every address of the site; each app lists its own."""

from django.contrib import admin
from django.urls import include, path

from deploy.views import keeping

urlpatterns = [
    path("", include("kitchen.urls")),  # first: addresses are compared in order, and readers ask for these
    path("", include(([path("bench/keeping/", keeping, name="keeping")], "deploy"))),
    path("", include("costing.urls")),
    path("", include("energy.urls")),
    path("bench/tables/", admin.site.urls),
]

handler400 = "deploy.errors.bad_request"
handler403 = "deploy.errors.forbidden"
handler404 = "deploy.errors.not_found"
handler500 = "deploy.full_disk.broken"
