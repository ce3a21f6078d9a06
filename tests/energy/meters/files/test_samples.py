"""Every invented sample is read to within what its own coarseness leaves, or refused with its true reason."""

import pytest

from energy.meters.files.columns.shape import LogShape, UnreadableFile
from energy.meters.files.looking import HEAD_BYTES, look_at
from energy.meters.files.reading import read_meter_log
from tests.energy.meters.files.samples import SAMPLES
from tests.energy.meters.files.samples_asked import READ
from tests.energy.meters.files.samples_rows import ROWS
from tests.energy.meters.files.samples_wild import WILD

ZONE = "Europe/Vienna"
ALL = (*SAMPLES, *WILD, *ROWS, *READ)


def read(data):
    """Read a file as its guessed shape says; what it is refused with, or nothing, comes second."""
    look = look_at(data[:HEAD_BYTES], zone=ZONE)
    if look.refusal:
        return None, look.refusal
    try:
        return read_meter_log([data], look.shape, zone=ZONE), ""
    except UnreadableFile as refused:
        return None, str(refused)


@pytest.mark.parametrize("sample", ALL, ids=lambda sample: sample.name)
def test_a_sample_is_read_or_refused_rightly(sample):
    log, refusal = read(sample.data)
    if sample.refusal:
        assert log is None
        assert sample.refusal in refusal
        return
    assert log is not None, refusal
    assert list(log.times_s) == sorted(log.times_s)
    if sample.wh is not None:
        assert log.total_wh == pytest.approx(sample.wh, rel=sample.within), (log.method, log.notes)


@pytest.mark.parametrize("sample", [one for one in ALL if not one.refusal], ids=lambda sample: sample.name)
def test_a_shape_that_was_kept_reads_the_same(sample):
    shape = look_at(sample.data[:HEAD_BYTES], zone=ZONE).shape
    kept = LogShape.from_dict(shape.to_dict())
    assert kept == shape
    assert read_meter_log([sample.data], kept, zone=ZONE).total_wh == read_meter_log([sample.data], shape, zone=ZONE).total_wh


@pytest.mark.parametrize("sample", [one for one in ALL if not one.refusal], ids=lambda sample: sample.name)
def test_where_a_stream_is_cut_into_pieces_does_not_matter(sample):
    shape = look_at(sample.data[:HEAD_BYTES], zone=ZONE).shape
    small = [sample.data[place : place + 997] for place in range(0, len(sample.data), 997)]
    assert read_meter_log(small, shape, zone=ZONE).total_wh == read_meter_log([sample.data], shape, zone=ZONE).total_wh
