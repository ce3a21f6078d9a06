"""Addresses of the costing app, all on the bench."""

from django.urls import URLPattern, path

from costing.views import items, price_book, prices, receipts, recipes, shopping, shops, what_if, yields

app_name = "costing"
urlpatterns: list[URLPattern] = [
    path("bench/prices/", prices.price_list, name="prices"),
    path("bench/prices/rules/", recipes.sheet_rules, name="sheet-rules"),
    path("bench/prices/book/", price_book.price_book, name="price-book"),
    path("bench/prices/book.csv", price_book.price_book_csv, name="price-book-csv"),
    path("bench/prices/book.json", price_book.price_book_json, name="price-book-json"),
    path("bench/prices/book/take-back/", price_book.table_take_back, name="price-book-take-back"),
    path("bench/shopping/", shopping.shopping, name="shopping"),
    path("bench/prices/receipt/", receipts.receipt_new, name="receipt"),
    path("bench/prices/receipt/<int:pk>/", receipts.receipt_show, name="receipt-kept"),
    path("bench/prices/receipt/<int:pk>/photo/", receipts.receipt_photo, name="receipt-photo"),
    path("bench/prices/receipt/<int:pk>/photo/remove/", receipts.receipt_photo_remove, name="receipt-photo-remove"),
    path("bench/prices/receipt/<int:pk>/take-back/", receipts.receipt_take_back, name="receipt-take-back"),
    path("bench/prices/food/<int:pk>/", prices.price_history, name="price-history"),
    path("bench/prices/<int:pk>/", prices.price_edit, name="price"),
    path("bench/prices/<int:pk>/remove/", prices.price_remove, name="price-remove"),
    path("bench/prices/items/<int:pk>/", items.item_edit, name="item"),
    path("bench/shops/", shops.shop_list, name="shops"),
    path("bench/shops/<int:pk>/", shops.shop_edit, name="shop"),
    path("bench/shops/<int:pk>/remove/", shops.shop_remove, name="shop-remove"),
    path("bench/yields/", yields.yield_list, name="yields"),
    path("bench/yields/<int:pk>/", yields.yield_edit, name="yield"),
    path("bench/yields/<int:pk>/remove/", yields.yield_remove, name="yield-remove"),
    path("bench/recipes/<slug:slug>/prices/", recipes.recipe_prices, name="recipe-prices"),
    path("bench/recipes/<slug:slug>/what-if/", what_if.recipe_what_if, name="what-if"),
]
