"""Denim shrinkage, trade page (common practice), %: plain denim 2 to 3 along, 3 to 4 across; with an elastic weft 2 to 3 along, 6 to 8 across.
A German page on washing jeans: mill-shrunk cotton denim about 2, stretch denim up to 10 or more."""

from __future__ import annotations

import pytest

from advisor import prewash

PRINTED = {
    "cotton denim": ((2, 3), (3, 4)),
    "stretch denim": ((2, 3), (6, 8)),
}


def meets(told, low, high):
    return told.low <= high and low <= told.high


@pytest.mark.parametrize("cloth", PRINTED)
def test_the_shrinkage_told_misses_the_printed_one(knowledge, cloth):
    found = prewash(cloth, knowledge=knowledge).shrinkage
    along, across = PRINTED[cloth]
    assert meets(found.along, *along), found
    assert across is None or meets(found.across, *across), found


def test_stretch_denim_is_told_narrower_than_the_other_page(knowledge):
    assert prewash("stretch denim", knowledge=knowledge).shrinkage.across.high >= 10
