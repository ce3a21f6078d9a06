"""Addresses of meters' files, and marking stages on the curve."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
