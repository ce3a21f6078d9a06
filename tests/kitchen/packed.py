"""Archives for tests: packed, taken apart, changed, and put together again."""

from __future__ import annotations

import hashlib
import io
import json
import zipfile

from kitchen.importers.archive import Archive
from kitchen.operations.packing import pack_library
from kitchen.operations.unpacking import unpack_library


def pack(at):
    """Return the library as an archive's bytes."""
    out = io.BytesIO()
    pack_library(out=out, at=at)
    return out.getvalue()


def members(packed):
    """Return an archive's members by name."""
    with zipfile.ZipFile(io.BytesIO(packed)) as archive:
        return {info.filename: archive.read(info) for info in archive.infolist()}


def documents(packed, *, names=True):
    """Return an archive's documents as JSON, without its manifest; without people's names where they do not matter."""
    held = {name: json.loads(data) for name, data in members(packed).items() if name.endswith(".json") and "manifest" not in name}
    return held if names else {name: nameless(document) for name, document in held.items()}


def nameless(value):
    """Return a document in which nobody is named."""
    people = {"owner", "created_by", "published_by", "operator", "said_by", "loaded_by"}
    if isinstance(value, dict):
        return {key: "" if key in people else nameless(inner) for key, inner in value.items()}
    return [nameless(inner) for inner in value] if isinstance(value, list) else value


def zipped(held, *, manifest=True, **said):
    """Return members put together again, under a manifest that fits them and says what is said."""
    held = dict(held)
    if manifest:
        old = json.loads(held.pop("manifest.json"))
        notes = [{"name": name, "size": len(data), "sha256": hashlib.sha256(data).hexdigest()} for name, data in held.items()]
        held["manifest.json"] = json.dumps({**old, "files": notes, **said}).encode()
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in held.items():
            archive.writestr(name, data)
    return out.getvalue()


def with_document(packed, name, change):
    """Return an archive in which one document is changed and everything else fits it."""
    held = members(packed)
    document = json.loads(held[name])
    change(document)
    return zipped({**held, name: json.dumps(document).encode()})


def unpack(packed, by, at, **options):
    """Unpack an archive's bytes and return the account."""
    return unpack_library(archive=Archive(io.BytesIO(packed)), by=by, at=at, **options)
