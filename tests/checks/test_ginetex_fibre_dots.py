"""GINETEX: which fibres are usually put at each dot, and that the most sensitive part decides.

The lists as reported in an Italian consumer article on the symbols (110, 150, 200 °C generation), section on the dots:
one dot acrylic, polyamide, acetate; two dots wool, silk, polyester, viscose; three dots cotton, linen.
"Most sensitive part decides" and "milder is always allowed": GINETEX, Basic principles of care labelling.
"""

from __future__ import annotations

import pytest

from advisor import press

ONE, TWO, THREE = 110, 150, 200


@pytest.mark.parametrize("cloth", ["acrylic", "polyamide", "acetate"])
def test_one_dot_fibres_are_pressed_at_110(knowledge, cloth):
    assert press(cloth, knowledge=knowledge).iron.max_c == ONE


@pytest.mark.parametrize("cloth", ["wool", "silk", "viscose", "polyester twill, 200 gsm"])
def test_two_dot_fibres_are_pressed_at_150(knowledge, cloth):
    assert press(cloth, knowledge=knowledge).iron.max_c == TWO


def test_thin_polyester_is_not_pressed_hotter_than_one_dot(knowledge):
    """Some lists put polyester at one dot: a regional newspaper's page on iron symbols, 2018, one-dot paragraph."""
    assert press("polyester, 60 gsm", knowledge=knowledge).iron.max_c == ONE


@pytest.mark.parametrize("cloth", ["cotton", "linen"])
def test_three_dot_fibres_are_pressed_at_200(knowledge, cloth):
    assert press(cloth, knowledge=knowledge).iron.max_c == THREE


@pytest.mark.parametrize(
    ("cloth", "limit"),
    [
        ("60% cotton 40% acrylic", ONE),
        ("80% wool 20% polyamide", ONE),
        ("50% wool 50% acetate", ONE),
        ("55% linen 45% viscose", TWO),
        ("90% cotton 10% silk", TWO),
        ("98% cotton 2% polyamide", ONE),
        ("50% cotton 50% linen", THREE),
    ],
)
def test_a_blend_takes_the_tenderest_fibre_however_small_its_share(knowledge, cloth, limit):
    assert press(cloth, knowledge=knowledge).iron.max_c == limit


@pytest.mark.parametrize("cloth", ["cotton, foiled", "cotton, laminated"])
def test_a_part_more_tender_than_the_fibre_decides(knowledge, cloth):
    assert press(cloth, knowledge=knowledge).iron.max_c <= ONE


def test_the_part_that_decides_is_named(knowledge):
    assert press("80% wool 20% polyamide", knowledge=knowledge).iron.decided_by == "polyamide"
