from django.urls import URLPattern

app_name = "energy"
urlpatterns: list[URLPattern] = []
