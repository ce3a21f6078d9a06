"""Where the site's own files (styles, fonts, scripts) come from: hashed and compressed once they are collected."""

from __future__ import annotations

from whitenoise.storage import CompressedManifestStaticFilesStorage


class CollectedFiles(CompressedManifestStaticFilesStorage):
    """Hashed names after ``collectstatic``; before it the plain names, which WhiteNoise then takes from the source folders."""

    def stored_name(self, name: str) -> str:
        return super().stored_name(name) if self.hashed_files else name
