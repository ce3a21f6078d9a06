"""Addresses of what a tariff costs when."""

from django.urls import URLPattern, path

from energy.tariffs import views as tariffs

urlpatterns: list[URLPattern] = [path("bench/tariffs/<int:pk>/prices/", tariffs.tariff_prices, name="tariff-prices")]
