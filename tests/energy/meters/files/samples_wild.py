"""Invented files with the oddities that exports really have, all together."""

from tests.energy.meters.files.samples_cells import cells, parts
from tests.energy.meters.files.samples_more import MORE
from tests.energy.meters.files.samples_nested import databases, nested
from tests.energy.meters.files.samples_periods import days, periods
from tests.energy.meters.files.samples_stamps import clock_changes, odd_stamps
from tests.energy.meters.files.samples_supplied import SUPPLIED

WILD = (*odd_stamps(), *cells(), *parts(), *periods(), *days(), *clock_changes(), *nested(), *databases(), *MORE, *SUPPLIED)
