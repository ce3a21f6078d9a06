"""Estimates: the facts of a recipe's energy, other sizes, other circumstances, the meal on the reader's source."""
