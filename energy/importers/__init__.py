"""Logs of other instruments read into samples: text in, values out; no files, no network."""

from energy.importers.columns import UnreadableLog
from energy.importers.csv_log import ReadLog, read_log

__all__ = ["ReadLog", "UnreadableLog", "read_log"]
