"""Matsudaira, Masuda, Wada and Yokura, J. Textile Engineering 61(6), 2015, 69-73, table 2: drape coefficients (%).

Cotton broadcloth 82.9, polyester faille 28.3: low is fluid, high is stiff."""

from __future__ import annotations

import pytest

from advisor import press

DRAPE = {"cotton broadcloth": 82.9, "polyester faille": 28.3}


@pytest.mark.parametrize("cloth", DRAPE)
def test_the_measured_drape_lies_in_the_range_told(knowledge, cloth):
    told = press(cloth, knowledge=knowledge).cloth.properties["drape"]
    assert told.low <= DRAPE[cloth] <= told.high


def test_the_limper_cloth_is_told_to_be_the_limper(knowledge):
    stiff, limp = (press(c, knowledge=knowledge).cloth.properties["drape"] for c in DRAPE)
    assert limp.high < stiff.low
