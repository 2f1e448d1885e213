"""Wash test of unbleached light cotton sheeting, about 153 g/m², warm wash and 60 min in the dryer (trade page, common practice), %: 8.3 to
9.5 in one direction, 10.0 to 10.2 in the other."""

from __future__ import annotations

import pytest

from advisor import prewash

PRINTED = {
    "unbleached calico": ((8.33, 10.23), (8.33, 9.45)),
}


def meets(told, low, high):
    return told.low <= high and low <= told.high


@pytest.mark.parametrize("cloth", PRINTED)
def test_the_shrinkage_told_misses_the_printed_one(knowledge, cloth):
    found = prewash(cloth, knowledge=knowledge).shrinkage
    along, across = PRINTED[cloth]
    assert meets(found.along, *along), found
    assert across is None or meets(found.across, *across), found


def test_the_tested_weight_surprises(knowledge):
    told = prewash("unbleached calico", knowledge=knowledge).cloth.properties["weight"]
    assert told.low <= 153 <= told.high
