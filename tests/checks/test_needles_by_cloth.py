"""Needles for stitching textiles, textile reference article, material and needle size: light woven Nm 65 to 75, medium woven 80 to
90, heavy woven (coat) 100 to 110, medium denim 100 to 110, very dense fine cloth 65 to 70."""

from __future__ import annotations

import pytest

from advisor import advise

PRINTED = {
    "cotton lawn, 90 gsm": (65, 75),
    "wool suiting, 230 gsm": (80, 90),
    "wool melton, 550 gsm": (100, 110),
    "cotton denim, 400 gsm": (100, 110),
    "silk habotai, 60 gsm": (65, 70),
}


@pytest.mark.parametrize("cloth", PRINTED)
def test_the_needle_meets_the_printed_range(knowledge, cloth):
    low, high = PRINTED[cloth]
    nm = advise.sew(cloth, knowledge=knowledge).needle.nm
    assert nm.low <= high
    assert nm.high >= low
