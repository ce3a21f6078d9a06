"""Addresses of the log sheet for pen and paper, and the grid that it is typed into."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
