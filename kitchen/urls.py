"""The kitchen's addresses: public ones, and those of the bench."""

from django.urls import URLPattern, path, re_path

from kitchen.views import (
    accounts,
    allergens,
    bench,
    clash,
    editor,
    foods,
    health,
    history,
    importing,
    lines,
    photos,
    public,
    settings,
    shelving,
)

app_name = "kitchen"

public_paths: list[URLPattern] = [
    path("", public.library, name="library"),
    path("r/<slug:slug>/", public.recipe, name="recipe"),
    path("r/<slug:slug>/for-<str:servings>/", public.recipe_for, name="recipe-for"),
    path("r/<slug:slug>/card.pdf", public.card_pdf, name="card-pdf"),
    path("r/<slug:slug>/editions/", public.editions, name="editions"),
    path("r/<slug:slug>/editions/<int:number>/", public.past_edition, name="edition"),
    path("healthz", health.healthz, name="healthz"),
    path("readyz", health.readyz, name="readyz"),
]
bench_paths: list[URLPattern] = [
    path("start/<str:token>/", accounts.start, name="start"),
    path("bench/sign-in/", accounts.sign_in, name="sign-in"),
    path("bench/sign-out/", accounts.sign_out, name="sign-out"),
    path("bench/join/<str:uid>/<str:token>/", accounts.join, name="join"),
    path("bench/password/", accounts.password, name="password"),
    path("bench/password/changed/", accounts.password_changed, name="password-changed"),
    path("bench/cooks/", accounts.cooks, name="cooks"),
    path("bench/cooks/<int:number>/link/", accounts.cook_new_link, name="cook-link"),
    path("bench/settings/", settings.site_settings, name="site-settings"),
    path("bench/", bench.bench, name="bench"),
    path("bench/recipes/new/", editor.recipe_new, name="recipe-new"),
    path("bench/recipes/import/", importing.recipe_import, name="recipe-import"),
    path("bench/recipes/<slug:slug>/", bench.recipe_bench, name="recipe-bench"),
    path("bench/recipes/<slug:slug>/edit/", editor.recipe_edit, name="recipe-edit"),
    path("bench/recipes/<slug:slug>/edit/lines/<int:number>/", lines.line_correct, name="line-correct"),
    path("bench/recipes/<slug:slug>/edit/aside/<int:number>/forget/", clash.aside_forget, name="aside-forget"),
    path("bench/recipes/<slug:slug>/draft/", bench.recipe_draft, name="recipe-draft"),
    path("bench/recipes/<slug:slug>/revisions/", history.revisions, name="revisions"),
    path("bench/recipes/<slug:slug>/revisions/<int:before>/<int:after>/", history.beside, name="revisions-beside"),
    path("bench/recipes/<slug:slug>/revisions/<int:number>/back/", history.revision_back, name="revision-back"),
    path("bench/recipes/<slug:slug>/revisions/<int:number>/undo/", history.revision_take_back, name="revision-undo"),
    path("bench/recipes/<slug:slug>/revisions/<int:number>/note/", history.revision_note, name="revision-note"),
    path("bench/recipes/<slug:slug>/publish/", shelving.recipe_publish, name="recipe-publish"),
    path("bench/recipes/<slug:slug>/withdraw/", shelving.recipe_withdraw, name="recipe-withdraw"),
    path("bench/recipes/<slug:slug>/bring-back/", shelving.recipe_bring_back, name="recipe-bring-back"),
    path("bench/recipes/<slug:slug>/address/", shelving.recipe_address, name="recipe-address"),
    path("bench/recipes/<slug:slug>/sides/", shelving.recipe_sides, name="recipe-sides"),
    path("bench/recipes/<slug:slug>/sides/<int:number>/remove/", shelving.recipe_unpair, name="recipe-unpair"),
    path("bench/recipes/<slug:slug>/allergens/", allergens.recipe_allergens, name="recipe-allergens"),
    path("bench/recipes/<slug:slug>/delete/", shelving.recipe_delete, name="recipe-delete"),
    path("bench/recipes/<slug:slug>/photos/", photos.photos, name="photos"),
    path("bench/recipes/<slug:slug>/photos/<int:number>/", photos.photo_edit, name="photo-edit"),
    path("bench/recipes/<slug:slug>/photos/<int:number>/lead/", photos.photo_lead, name="photo-lead"),
    path("bench/recipes/<slug:slug>/photos/<int:number>/remove/", photos.photo_remove, name="photo-remove"),
    path("bench/foods/", foods.foods, name="foods"),
    path("bench/foods/new/", foods.food_new, name="food-new"),
    path("bench/foods/<int:number>/", foods.food_edit, name="food-edit"),
    re_path(r"^photos/(?P<name>[0-9a-f]{24}-[0-9a-z-]{4,32}\.(?:jpg|webp))$", photos.photo_file, name="photo-file"),
]
urlpatterns = public_paths + bench_paths
