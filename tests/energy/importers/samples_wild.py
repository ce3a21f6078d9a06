"""Invented files with the oddities that exports really have, all together."""

from tests.energy.importers.samples_cells import cells, parts
from tests.energy.importers.samples_more import MORE
from tests.energy.importers.samples_nested import databases, nested
from tests.energy.importers.samples_periods import days, periods
from tests.energy.importers.samples_stamps import clock_changes, odd_stamps
from tests.energy.importers.samples_supplied import SUPPLIED

WILD = (*odd_stamps(), *cells(), *parts(), *periods(), *days(), *clock_changes(), *nested(), *databases(), *MORE, *SUPPLIED)
