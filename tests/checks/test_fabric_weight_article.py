"""A sewing article on fabric weight (common practice): gabardine 8 oz and about 220 g/m², though 8 oz/yd² are 271; its ounce is doubtful, so both ends
are allowed. A page on tent cloth: canvas and duck from about 305 g/m² (9 oz) upward. US tariff: tapestry cloth is split at 140 and 300 g/m²."""

from __future__ import annotations

import pytest

from advisor import press

PRINTED = {
    "gabardine": (220, 271),
    "cotton canvas": (305, 1000),
    "cotton duck": (305, 1000),
}


@pytest.mark.parametrize("cloth", PRINTED)
def test_the_weight_told_for_a_name_misses_the_printed_one(knowledge, cloth):
    told = press(cloth, knowledge=knowledge).cloth.properties["weight"]
    low, high = PRINTED[cloth]
    assert told.low <= high and low <= told.high, told


def test_eight_ounces_are_220_grams():
    from advisor.need.units import gsm_from_oz

    assert gsm_from_oz(8) == pytest.approx(271, abs=0.5)
    assert gsm_from_oz(9) == pytest.approx(305, abs=0.5)
