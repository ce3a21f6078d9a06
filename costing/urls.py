from django.urls import URLPattern

app_name = "costing"
urlpatterns: list[URLPattern] = []
