"""A machine-translated trade list (common practice), %, along and across: mercerised plain cotton 3.5 and 3.5, plain cotton 6 and 2.5,
worsted wool 4 and 3.5."""

from __future__ import annotations

import pytest

from advisor import prewash

PRINTED = {
    "mercerised cotton": ((3.5, 3.5), (3.5, 3.5)),
    "cotton plain weave": ((6, 6), (2.5, 2.5)),
    "worsted wool": ((4, 4), (3.5, 3.5)),
}


def meets(told, low, high):
    return told.low <= high and low <= told.high


@pytest.mark.parametrize("cloth", PRINTED)
def test_the_shrinkage_told_misses_the_printed_one(knowledge, cloth):
    found = prewash(cloth, knowledge=knowledge).shrinkage
    along, across = PRINTED[cloth]
    assert meets(found.along, *along), found
    assert across is None or meets(found.across, *across), found
