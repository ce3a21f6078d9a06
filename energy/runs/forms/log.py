"""A log in the place of typed rows: the file or its text, what it does not tell, and the answers, in one form."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from io import BytesIO
from typing import Any

from django import forms
from django.core import signing
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import UploadedFile

from energy.meters.files.any_log import for_a_run, taken_from
from energy.meters.files.beginning import beginning_of
from energy.meters.files.columns.shape import UnreadableFile
from energy.meters.files.looking import Look
from energy.meters.files.reading import MeterLog
from energy.meters.files.tables.decoding import encoding_of, lines
from energy.meters.queries import log_files
from energy.runs.domain.samples import Sample
from energy.runs.operations.typed import FileFacts, StageStart
from energy.words import ENGLISH, sentence

LARGEST_LOG_BYTES = 4_000_000
_SALT = "energy.log-in-a-form"


class LogForm(forms.Form):
    """A log as a file or pasted. Where it leaves something open, the page asks, and the answers come with the same form.

    ``log_shape`` carries what was answered before, signed, and of which text: another file begins anew.
    """

    log_file = forms.FileField(
        required=False,
        allow_empty_file=True,
        label="A meter’s file",
        widget=forms.FileInput(attrs={"accept": ".csv,.txt,.tsv,.json,.xml,.log"}),
    )
    log_text = forms.CharField(
        required=False, label="or paste it here", strip=False, widget=forms.Textarea(attrs={"rows": 5, "spellcheck": "false"})
    )
    log_shape = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.look: Look | None = None
        self.log: MeterLog | None = None
        self.facts: FileFacts | None = None

    def clean_log_file(self) -> bytes:
        return _bytes_of(self.cleaned_data["log_file"])

    def clean_log_text(self) -> str:
        text: str = self.cleaned_data["log_text"]
        if len(text) > LARGEST_LOG_BYTES:
            raise ValidationError("This is more than 4 MB of text. Paste a shorter time, then try again.")
        return text if text.strip() else ""

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        file = self.files.get("log_file")
        place = "log_file" if file else "log_text"
        if self.errors:
            return cleaned
        given = cleaned.get(place)
        if given or file is not None:
            data = given if isinstance(given, bytes) else str(given or "").encode("utf-8", "replace")
            self._read_log(place, data, str(file.name) if file else "")
        return cleaned

    def _read_log(self, place: str, data: bytes, name: str) -> None:
        try:
            look, log = self._looked(data)
            if log is None:
                raise UnreadableFile(look.refusal or look.questions[0].words)
            self.log = for_a_run(log)
        except UnreadableFile as error:
            self.add_error(place, str(error))
            return
        digest = hashlib.sha256(data).hexdigest()
        kept = (name[-120:] or sentence(ENGLISH, "pasted"), digest, look.shape.to_dict(), taken_from(look, self.log))
        self.facts = FileFacts(*kept, self.log.came, self.log.doubts)

    def _looked(self, data: bytes) -> tuple[Look, MeterLog | None]:
        """Return how a log is read with all that was answered, and what it says where nothing is open any more."""
        head, said = beginning_of(BytesIO(data)), {name: str(self.data[name]) for name in self.data}
        shape = None if said.get("look") == "guess" else _shape_of(said.get("log_shape", ""), data)
        look = self.look = log_files.look_of(head, shape)
        if shape is not None:
            look = self.look = log_files.look_of(head, log_files.told(head, look, said).to_dict())
        if look.refusal:
            return look, None
        self.look, log = log_files.looked_through(look, [data])
        return self.look, log

    def keep_text(self) -> None:
        """Put the text of a chosen file into the text field, because a browser never sends a file back to its form."""
        text = _quiet_text_of(self.files)
        changed = {"log_text": text} if text and not self["log_text"].data else {}
        if self.look is not None:
            data = (text or str(self.data.get("log_text", ""))).encode("utf-8", "replace")
            shape = replace(self.look.shape, encoding="utf-8") if text else self.look.shape
            changed["log_shape"] = signing.dumps([_digest(data), shape.to_dict()], salt=_SALT, compress=True)
        self.data = {**{name: self.data[name] for name in self.data}, **changed}

    @property
    def asks(self) -> bool:
        """Whether the page should show how the log is read, with its columns; not where somebody's own row is at fault."""
        return self.look is not None and bool(self.look.preview) and not (self.look.shape.strict and self.errors)

    @property
    def columns(self) -> list[log_files.ColumnChoice]:
        """The columns of a log that was looked at, and what each may be used for."""
        return [] if self.look is None else log_files.columns_of(self.look)

    @property
    def taken(self) -> tuple[str, ...]:
        """What will be taken of a log that leaves nothing open, and what is in doubt."""
        return () if self.log is None else log_files.taken_words(self.log)

    @property
    def readings(self) -> Sequence[Sample]:
        """The readings of a valid log; none when no log was given."""
        return () if self.log is None else tuple(replace(one, at_s=round(one.at_s, 3)) for one in self.log.samples())

    @property
    def start(self) -> datetime | None:
        """The first instant of a valid log, where it names one."""
        return self.log.start if self.log else None

    @property
    def stages(self) -> list[StageStart]:
        """The stages that a valid log names."""
        return [] if self.log is None else [StageStart(stage.start_s, stage.kind, stage.label) for stage in self.log.stages]

    @property
    def is_used(self) -> bool:
        """Whether the part of the page with the log should stand open."""
        return bool(self["log_text"].value()) or (self.is_bound and bool(self.errors))

    @staticmethod
    def text_of(files: Mapping[str, Any] | None) -> str:
        """Return the text of a chosen file, or nothing where it cannot be read."""
        return _quiet_text_of(files)


def _digest(data: bytes) -> str:
    """Return what tells one text from another, however a form ends its lines."""
    return hashlib.sha256(b"\n".join(data.split())).hexdigest()


def _shape_of(signed: str, data: bytes) -> dict[str, Any] | None:
    """Return how this text was to be read when the page was made; None where it was another, or nothing was said."""
    try:
        digest, shape = signing.loads(signed, salt=_SALT)
    except signing.BadSignature:
        return None
    return dict(shape) if digest == _digest(data) else None


def _bytes_of(upload: UploadedFile[Any] | None) -> bytes:
    if upload is None:
        return b""
    if (upload.size or 0) > LARGEST_LOG_BYTES:
        raise ValidationError("This file is larger than 4 MB. “From a meter’s file” on the cook’s page takes longer ones.")
    upload.seek(0)
    data: bytes = upload.read()
    return data


def _quiet_text_of(files: Mapping[str, Any] | None) -> str:
    try:
        data = _bytes_of((files or {}).get("log_file"))
        return "".join(f"{line}\n" for line in lines([data], encoding_of(data))) if data else ""
    except (ValidationError, UnreadableFile):
        return ""
