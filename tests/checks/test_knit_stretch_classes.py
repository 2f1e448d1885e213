"""Stretch of knits across, %: one sewing guide (common practice) has stable 18 to 25, moderate 25 to 30, stretchy to 50, swim 75 to 100; a second minimal to 25,
moderate 50, very stretchy 75, high performance 100. The figures told for a knit of that kind meet either guide."""

from __future__ import annotations

import pytest

from advisor import press

PRINTED = {
    "double knit": (18, 25),
    "interlock": (0, 50),
    "cotton jersey": (25, 50),
    "swim knit, 80% polyamide 20% elastane": (75, 100),
}


@pytest.mark.parametrize("cloth", PRINTED)
def test_the_stretch_told_for_a_knit_misses_both_guides(knowledge, cloth):
    told = press(cloth, knowledge=knowledge).cloth.properties["stretch_across"]
    low, high = PRINTED[cloth]
    assert told.low <= high and low <= told.high, told
