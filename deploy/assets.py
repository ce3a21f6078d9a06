"""Where the site's own files (styles, fonts, scripts) come from: hashed and compressed once they are collected."""

from __future__ import annotations

from whitenoise.storage import CompressedManifestStaticFilesStorage

# What a script of this site imports gets its hashed name, too. The storage's own switch for that reads the scripts of the
# packages as well, and trips over an `import` in a comment.
_OWN_IMPORTS = ("js/*.js", ((r'(?m)(?P<matched>^(?P<names>import\b[^"]*)"(?P<url>\./[^"]+)";)', '%(names)s"%(url)s";'),))


class CollectedFiles(CompressedManifestStaticFilesStorage):  # type: ignore[misc]  # its package brings no types
    """Hashed names after ``collectstatic``; before it the plain names, which WhiteNoise then takes from the source folders."""

    patterns = (*CompressedManifestStaticFilesStorage.patterns, _OWN_IMPORTS)

    def stored_name(self, name: str) -> str:
        return super().stored_name(name) if self.hashed_files else name
