"""Ounces per square yard and momme to g/m².

Oracle: the unit registry of pint for the ounce and the yard. Published pairs: US Committee for the Implementation of
Textile Agreements, short-supply specifications (220 g/m² = 6.48 oz/yd², 290 = 8.55, list of 27 August 2013; 233.9 = 6.9, list of
22 March 2013). Momme: 4.34 g/m² (education page on mommes); 3.76 g on a strip of 22.8 m by 3.8 cm (textile dictionary).
"""

from __future__ import annotations

import pint
import pytest

from advisor.figures import take
from advisor.words import describe

UNITS = pint.UnitRegistry()


def weight(text, **options):
    return take(text.lower(), **options)[1].stated["weight"].mid


@pytest.mark.parametrize("ounces", [1, 2.5, 4, 5.3, 11, 14])
@pytest.mark.parametrize("said", ["{} oz", "{} oz/yd2", "{} oz per square yard", "{} ounces per sq yd", "{}oz"])
def test_ounces_become_grams_as_pint_has_them(ounces, said):
    true = (ounces * UNITS.ounce / UNITS.yard**2).to("g/m**2").magnitude
    assert weight(said.format(ounces)) == pytest.approx(true, rel=1e-5)


@pytest.mark.parametrize(("gsm", "ounces", "within"), [(220, 6.48, 0.01), (290, 8.55, 0.005), (233.9, 6.9, 0.05)])
def test_published_pairs_of_grams_and_ounces_agree(gsm, ounces, within):
    assert gsm / weight("1 oz") == pytest.approx(ounces, abs=within)


@pytest.mark.parametrize("momme", [5, 8, 12, 16, 19, 40])
def test_momme_are_those_of_the_strip_that_defines_them(momme):
    strip = 3.76 * UNITS.gram / (22.8 * UNITS.meter * 3.8 * UNITS.centimeter)
    true = (momme * strip).to("g/m**2").magnitude
    assert weight(f"{momme} momme") == pytest.approx(true, rel=0.001)
    assert weight(f"{momme} momme") == pytest.approx(momme * 4.34, rel=0.001)


def test_eight_momme_are_about_an_ounce_a_square_yard():
    """Education page on mommes: 8 momme is about 1 oz/yd² or 35 g/m²."""
    assert weight("8 momme") == pytest.approx(35, abs=0.5)
    assert weight("8 momme") == pytest.approx(weight("1 oz"), rel=0.03)


def test_mm_on_silk_is_momme_and_elsewhere_thickness(knowledge):
    assert describe("silk, 19mm", knowledge).figures.stated["weight"].mid == pytest.approx(19 * 4.34)
    assert "weight" not in describe("wool felt, 3mm", knowledge).figures.stated


@pytest.mark.parametrize(("grams", "width_cm"), [(390, 150), (300, 145), (232, 140)])
def test_grams_per_running_metre_are_divided_by_the_width(grams, width_cm):
    true = (grams * UNITS.gram / (UNITS.meter * width_cm * UNITS.centimeter)).to("g/m**2").magnitude
    assert weight(f"{grams} g per running metre, {width_cm} cm wide") == pytest.approx(true)


@pytest.mark.parametrize(
    ("said", "centimetres"),
    [("45 in wide", 114.3), ("60 inches wide", 152.4), ('54" wide', 137.16), ("1.4 m wide", 140)],
)
def test_widths_become_centimetres_at_2_54_to_the_inch(said, centimetres):
    assert take(said)[1].width_cm == pytest.approx(centimetres)


def test_yards_of_length_become_metres():
    assert take("3 yd")[1].length_m == pytest.approx((3 * UNITS.yard).to("m").magnitude)
