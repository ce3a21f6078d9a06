"""Logs of other instruments read into samples: text in, values out; no files, no network."""

from energy.importers.any_log import read_log
from energy.importers.columns import UnreadableLog
from energy.importers.csv_log import ReadLog

__all__ = ["ReadLog", "UnreadableLog", "read_log"]
