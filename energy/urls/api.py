"""Addresses of what phones and devices send."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
