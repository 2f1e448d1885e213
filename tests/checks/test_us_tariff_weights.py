"""Weights that names carry in US tariff law.

Harmonized Tariff Schedule, chapter 52, Statistical Note 1: lawn, voile, batiste, oxford, cheesecloth and lighter
sheeting of cotton not over 200 g/m²; duck over 200. Proclamation 6641 of 15 December 1993 (108 Stat. 5196), Annex I,
chapter rule 2(E): batiste not over 110 g/m². Numbered duck: ounces of a piece of 36 by 22 inches = 19 less the
number (encyclopaedia article, classification).
"""

from __future__ import annotations

import pytest

from advisor import press
from advisor.figures import take


def weight(cloth, knowledge):
    return press(cloth, knowledge=knowledge).cloth.properties["weight"]


@pytest.mark.parametrize(
    "cloth", ["cotton lawn", "cotton voile", "cotton batiste", "oxford cloth", "cheesecloth", "cotton sheeting"]
)
def test_light_cottons_are_told_within_the_legal_ceiling(knowledge, cloth):
    assert weight(cloth, knowledge).high <= 200


def test_batiste_is_told_within_its_ceiling_of_110(knowledge):
    assert weight("polycotton batiste", knowledge).high <= 110
    assert weight("cotton batiste", knowledge).high <= 110


@pytest.mark.parametrize("cloth", ["cotton duck", "numbered duck"])
def test_duck_is_told_above_200(knowledge, cloth):
    assert weight(cloth, knowledge).low >= 200


@pytest.mark.parametrize("number", [8, 10, 12])
def test_numbered_duck_holds_the_weights_that_its_number_means(knowledge, number):
    square_yards = 36 * 22 / 1296
    gsm = (19 - number) * take("1 oz")[1].stated["weight"].mid / square_yards
    told = weight("numbered duck", knowledge)
    assert told.low - 5 <= gsm <= told.high + 5
