"""Polypropylene: wrinkles stay below 100 °C, 100 to 119 °C crinkle it, 120 to 140 °C turn it hard and shiny (a US
patent on polypropylene fabric, as reported by an answers site). Acetate: lowest setting (University of Georgia
Extension, Understand Your Fibers). Polylactide: melts from 130 °C by grade, softens at 55 to 60 °C (technical
bulletin citing Fourne and Warner). Elastane: never over 149 °C (textile study-unit cards on elastomeric fibre).
"""

from __future__ import annotations

import pytest

from advisor import press


@pytest.mark.parametrize("cloth", ["polypropylene", "99% cotton 1% polypropylene", "polypropylene knit, 150 gsm"])
def test_polypropylene_is_never_ironed_at_100_degrees(knowledge, cloth):
    assert press(cloth, knowledge=knowledge).iron.max_c < 100


def test_acetate_gets_the_lowest_setting_and_the_wrong_side(knowledge):
    answer = press("acetate lining", knowledge=knowledge)
    assert answer.iron.level == 1
    assert answer.side == "wrong"


def test_polylactide_is_kept_far_from_its_lowest_melting_point(knowledge):
    assert press("polylactide", knowledge=knowledge).iron.max_c <= 80


@pytest.mark.parametrize("cloth", ["elastane", "97% cotton 3% elastane", "95% viscose 5% elastane jersey"])
def test_a_little_elastane_caps_the_iron(knowledge, cloth):
    assert press(cloth, knowledge=knowledge).iron.max_c < 149
