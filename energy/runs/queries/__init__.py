"""Reads of runs, each in a number of queries that does not grow with the rows."""
