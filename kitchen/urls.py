"""The kitchen's addresses: public ones, and those of the bench."""

from django.urls import URLPattern, path

from kitchen.views import health, public

app_name = "kitchen"

public_paths: list[URLPattern] = [
    path("", public.library, name="library"),
    path("r/<slug:slug>/", public.recipe, name="recipe"),
    path("r/<slug:slug>/for-<str:servings>/", public.recipe_for, name="recipe-for"),
    path("r/<slug:slug>/card.pdf", public.card_pdf, name="card-pdf"),
    path("r/<slug:slug>/editions/", public.editions, name="editions"),
    path("healthz", health.healthz, name="healthz"),
    path("readyz", health.readyz, name="readyz"),
]
bench_paths: list[URLPattern] = []
urlpatterns = public_paths + bench_paths
