"""Harmonized System: headings 52.08 and 52.09 part woven cotton at 200 g/m²; US wording parts plain weave at 100 g/m²; US chapter 55 parts man-made poplin at
170 g/m². Osnaburg over 200 g/m² in the tariff note, 119 to 231 in a federal specification: the specification is the cloth, the line a class."""

from __future__ import annotations

import pytest

from advisor import press


def weight(cloth, knowledge):
    return press(cloth, knowledge=knowledge).cloth.properties["weight"]


@pytest.mark.parametrize("cloth", ["cotton voile", "cotton lawn", "batiste"])
def test_a_dress_sheer_is_no_lightest_class(knowledge, cloth):
    assert weight(cloth, knowledge).high <= 100


def test_osnaburg_follows_the_tariff_line(knowledge):
    told = weight("osnaburg", knowledge)
    assert told.low <= 200 <= told.high
    assert (told.low, told.high) == (119, 231)


def test_cotton_drill_or_denim_is_of_the_lighter_heading(knowledge):
    assert weight("denim", knowledge).low > 200
