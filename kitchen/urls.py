from django.urls import URLPattern

app_name = "kitchen"
urlpatterns: list[URLPattern] = []
