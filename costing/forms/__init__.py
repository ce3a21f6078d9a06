"""Forms: what a request may say about prices, shops and yields. None of them saves."""

from costing.forms.grid import PriceGrid
from costing.forms.prices import QuoteForm, SearchForm
from costing.forms.rules import SheetAskForm, SheetRulesForm
from costing.forms.shops import ShopForm
from costing.forms.yields import YieldForm

__all__ = ["GridRow", "PriceGrid", "QuoteForm", "SearchForm", "SheetAskForm", "SheetRulesForm", "ShopForm", "YieldForm"]
