"""The New Dressmaker (1921), ch. 28: soft sheer cloth three times, cloth with more body about twice.

School notes say up to twice for any cloth, an extension sheet (Utah State University) two to three, and a trade rule 1.5
for heavy cloth: the fullness follows the weight, as the sources' reasons do.
"""

from __future__ import annotations

import pytest

from advisor.knowledge import shipped_folder
from advisor.need import tables
from advisor.need.frills import gathers_ratio
from advisor.ranges import Range

TABLE = tables.read_table(tables.Fullness, [shipped_folder()])


@pytest.mark.parametrize(("gsm", "wanted"), [((30, 55), 3), ((140, 190), 2), ((280, 400), 1.5)])
def test_fullness_does_not_follow_the_weight_of_the_cloth(gsm, wanted):
    times, _, sources = gathers_ratio(Range(*gsm), "", TABLE)
    assert times.expected == wanted
    assert all(sources)
    assert times.low <= times.expected <= times.high


def test_box_pleated_and_side_pleated_trimmings_leave_the_printed_ratio():
    """Scanned page 146: a little under three times for box pleats, three times for side pleats."""
    assert TABLE.pleats["box"].all_round == TABLE.pleats["knife"].all_round == 3
