"""Weights by ounces a square yard on a trade page (common practice), g/m²: voile and batiste 34 to 68, lawn and shirting 102 to 170 (it mixes the
two; lawn of today is 60 to 90), quilting cotton 136 to 203, poplin and broadcloth 136 to 237; linen 100 for tops, 200 for trousers."""

from __future__ import annotations

import pytest

from advisor import press

PRINTED = {
    "cotton voile": (34, 68),
    "batiste": (34, 68),
    "shirting": (102, 170),
    "quilting cotton": (136, 203),
    "poplin": (136, 237),
    "linen": (100, 200),
}


@pytest.mark.parametrize("cloth", PRINTED)
def test_the_weight_told_for_a_name_misses_the_printed_one(knowledge, cloth):
    told = press(cloth, knowledge=knowledge).cloth.properties["weight"]
    low, high = PRINTED[cloth]
    assert told.low <= high and low <= told.high, told


def test_lawn_was_given_the_weight_of_shirting(knowledge):
    assert press("cotton lawn", knowledge=knowledge).cloth.properties["weight"].high < 102
