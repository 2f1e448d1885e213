"""Average shrinkage of cloths, trade page of 2018 (common practice), %: polyester 0; woven cotton, linen and canvas 2 to 7; rayon 5 to 10;
laboratory limits usually 3 for wovens and 5 for knits."""

from __future__ import annotations

import pytest

from advisor import prewash

PRINTED = {
    "polyester": ((0, 0), None),
    "cotton plain weave": ((2, 7), None),
    "linen": ((2, 7), None),
    "cotton canvas": ((2, 7), None),
    "viscose": ((5, 10), None),
}


def meets(told, low, high):
    return told.low <= high and low <= told.high


@pytest.mark.parametrize("cloth", PRINTED)
def test_the_shrinkage_told_misses_the_printed_one(knowledge, cloth):
    found = prewash(cloth, knowledge=knowledge).shrinkage
    along, across = PRINTED[cloth]
    assert meets(found.along, *along), found
    assert across is None or meets(found.across, *across), found


def test_viscose_goes_beyond_the_list(knowledge):
    assert prewash("viscose", knowledge=knowledge).shrinkage.along == prewash("rayon", knowledge=knowledge).shrinkage.along
    assert prewash("viscose", knowledge=knowledge).shrinkage.along.high == 10
