"""General shrinkage rates, trade page (common practice), %, direction not told: cotton 4 to 10, plain white cotton 3, poplin 3 to 4.5, printed
cotton 3 to 3.5, khaki gabardine 4 to 5.5, twill 4, denim 10, rayon 10. Its 4 to 8 for man-made fibres contradicts the 0 to 1 of heat-set
polyester, which is told. Denim depends on whether it was shrunk at the mill: 10 is raw denim."""

from __future__ import annotations

import pytest

from advisor import prewash

PRINTED = {
    "cotton": ((3, 10), None),
    "cotton poplin": ((3, 4.5), None),
    "cotton print": ((3, 3.5), None),
    "cotton gabardine": ((4, 5.5), None),
    "cotton twill": ((4, 4), None),
    "raw denim": ((10, 10), None),
    "viscose challis": ((10, 10), None),
}


def meets(told, low, high):
    return told.low <= high and low <= told.high


@pytest.mark.parametrize("cloth", PRINTED)
def test_the_shrinkage_told_misses_the_printed_one(knowledge, cloth):
    found = prewash(cloth, knowledge=knowledge).shrinkage
    along, across = PRINTED[cloth]
    assert meets(found.along, *along), found
    assert across is None or meets(found.across, *across), found


def test_heat_set_polyester_was_given_the_figure_for_all_synthetics(knowledge):
    assert prewash("polyester", knowledge=knowledge).shrinkage.along.high <= 1
