"""Pages about runs."""
