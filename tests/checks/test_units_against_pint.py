"""Conversions of length, weight and yarn count against the unit registry of pint."""

from __future__ import annotations

import random

import pint
import pytest

from advisor.need import units

U = pint.UnitRegistry()


@pytest.mark.parametrize("value", [0.5, 1, 4.5, 11.25, 140])
def test_a_conversion_differs_from_pint(value):
    per_yd2 = (value * U.ounce / U.yard**2).to("g/m**2").magnitude
    assert units.gsm_from_oz(value) == pytest.approx(per_yd2, rel=1e-12)
    assert units.oz_from_gsm(per_yd2) == pytest.approx(value, rel=1e-12)
    assert units.inches(value) == pytest.approx((value * U.mm).to("inch").magnitude, rel=1e-12)
    assert units.yards(value) == pytest.approx((value * U.meter).to("yard").magnitude, rel=1e-12)
    assert units.tex_from_denier(value) == pytest.approx((value * U.denier).to("tex").magnitude, rel=1e-12)
    assert units.denier_from_tex(value) == pytest.approx((value * U.tex).to("denier").magnitude, rel=1e-12)
    assert units.tex_from_cotton_count(value) == pytest.approx(
        1 / (value * 840 * U.yard / U.pound).to("km/g").magnitude, rel=1e-12
    )
    assert units.tex_from_metric_count(value) == pytest.approx(
        1 / (value * U.meter / U.gram).to("km/g").magnitude, rel=1e-12
    )
    assert units.mm_from_ligne(value) == pytest.approx((value * U.inch / 40).to("mm").magnitude, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "true"),
    [("2 1/2 yd", 2.5 * U.yard), ("5/8 in", 0.625 * U.inch), ("1.8 m", 1.8 * U.meter), ("3½ ft", 3.5 * U.foot)],
)
def test_a_written_length_differs_from_pint(text, true):
    assert units.read_length(text, "cm", "length") == pytest.approx(true.to("mm").magnitude, rel=1e-12)


def test_momme_differ_from_either_definition():
    """A piece of 45 in x 100 yd in pounds (education page on mommes); 3.76 g on 22.8 m x 3.8 cm (textile dictionary)."""
    pounds = (U.pound / (45 * U.inch * 100 * U.yard)).to("g/m**2").magnitude
    strip = (3.76 * U.gram / (22.8 * U.meter * 3.8 * U.cm)).to("g/m**2").magnitude
    assert units.gsm_from_momme(1) == pytest.approx(pounds, rel=1e-9)
    assert units.gsm_from_momme(1) == pytest.approx(
        strip, abs=0.001
    )
    assert units.momme_from_gsm(4.34) == pytest.approx(1, abs=0.001)


@pytest.mark.parametrize(("momme", "printed"), [(16, 69), (19, 82), (22, 95), (25, 108)])
def test_momme_are_further_off_than_a_trade_page_truncates(momme, printed):
    assert units.gsm_from_momme(momme) == pytest.approx(printed, abs=1)


@pytest.mark.parametrize(("ne", "tex"), [(20, 590.54 / 20), (60, 590.54 / 60)])
def test_the_cotton_count_differs_from_the_teaching_table(ne, tex):
    """Yarn conversions article: 590.54 / Ne."""
    assert units.tex_from_cotton_count(ne) == pytest.approx(tex, rel=1e-4)


@pytest.mark.parametrize("seed", range(1000))
def test_a_random_conversion_differs_from_pint(seed):
    value = random.Random(seed).uniform(1e-3, 1e4)
    for ours, theirs in (
        (units.gsm_from_oz(value), (value * U.oz / U.yard**2).to("g/m**2")),
        (units.oz_from_gsm(value), (value * U.g / U.m**2).to("oz/yard**2")),
        (units.inches(value), (value * U.mm).to("inch")),
        (units.yards(value), (value * U.m).to("yard")),
        (units.mm_from_ligne(value), (value / 40 * U.inch).to("mm")),
        (units.tex_from_denier(value), (value * U.denier).to("tex")),
    ):
        assert ours == pytest.approx(theirs.m, rel=1e-9)
