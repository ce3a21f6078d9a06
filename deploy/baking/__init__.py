"""The public site as plain files, for any host that serves files."""
