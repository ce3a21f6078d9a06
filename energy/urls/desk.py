"""Addresses of the run desk: a cook in progress, and what keeps it usable without a signal."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
