"""Addresses of runs beside each other, which runs count, pictures of a run."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
