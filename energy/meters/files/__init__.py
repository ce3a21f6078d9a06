"""Logs of other instruments read into samples: text in, values out; no files, no network."""
