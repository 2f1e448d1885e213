"""W. E. Morton and J. W. S. Hearle, Physical Properties of Textile Fibres, 4th edition, 2008.

Melting: table 18.1, p. 463, as transcribed in a public data file; the note under it: cotton, flax, viscose, wool and
silk decompose before they melt. Densities at 65 % relative humidity: table 5.1. Regain at 65 % and 20 °C: quoted in
Bioresources and Bioprocessing 2020, table 10 note c. Tenacity: table 13.1, p. 290 (data of Meredith, 1945).
"""

from __future__ import annotations

import pytest

from advisor import press

MELTING_C = {"polypropylene": 170, "polyethylene": 135, "triacetate": 300}
"""One figure each in table 18.1."""
DENSITY = {
    "cotton": 1.52, "viscose": 1.49, "acetate": 1.32, "triacetate": 1.32, "wool": 1.31, "silk": 1.34, "azlon": 1.30,
    "polyamide": 1.14, "polyester": 1.39, "acrylic": 1.19, "polyethylene": 0.95, "polypropylene": 0.91, "alginate": 1.75,
    "polylactide": 1.25, "glass": 2.5,
}  # fmt: skip
REGAIN = {"cotton": (7, 8), "linen": (7, 7), "hemp": (8, 8), "jute": (12, 12), "silk": (10, 10), "wool": (14, 18)}
TENACITY = {"linen": 0.54, "jute": 0.31, "hemp": 0.47, "ramie": 0.59, "acetate": 0.13, "silk": 0.38, "polyamide": 0.47}


def fact(knowledge, fibre, name):
    return knowledge.fibres[fibre].facts[name].range


@pytest.mark.parametrize("fibre", MELTING_C)
def test_melting_points_are_those_of_table_18_1(knowledge, fibre):
    assert fact(knowledge, fibre, "melts_c") == (MELTING_C[fibre], MELTING_C[fibre])


def test_polyester_melts_at_260_within_the_range_told(knowledge):
    low, high = fact(knowledge, "polyester", "melts_c")
    assert low <= 260 <= high


def test_polyamide_is_told_from_nylon_6_at_215_to_nylon_6_6_at_260(knowledge):
    assert fact(knowledge, "polyamide", "melts_c") == (215, 260)


@pytest.mark.parametrize("fibre", ["cotton", "linen", "viscose", "wool", "silk"])
def test_what_decomposes_before_it_melts_has_no_melting_point_and_never_melts(knowledge, fibre):
    entry = knowledge.fibres[fibre]
    assert "melts_c" not in entry.facts
    assert "melts" not in (*entry.traits, *entry.may)


@pytest.mark.parametrize("fibre", [*MELTING_C, "polyester", "polyamide"])
def test_the_iron_stays_well_below_melting(knowledge, fibre):
    assert press(fibre, knowledge=knowledge).iron.max_c <= fact(knowledge, fibre, "melts_c").low - 50


@pytest.mark.parametrize("fibre", [*MELTING_C, "polyester", "polyamide"])
def test_what_melts_is_marked_so(knowledge, fibre):
    assert press(fibre, knowledge=knowledge).cloth.traits["melts"] == "sure"


@pytest.mark.parametrize("fibre", DENSITY)
def test_densities_are_those_of_table_5_1(knowledge, fibre):
    assert fact(knowledge, fibre, "density_g_cm3") == (DENSITY[fibre], DENSITY[fibre])


def test_the_two_modacrylics_span_the_table(knowledge):
    assert fact(knowledge, "modacrylic", "density_g_cm3") == (1.29, 1.34)


@pytest.mark.parametrize("fibre", REGAIN)
def test_regain_in_ordinary_air(knowledge, fibre):
    low, high = fact(knowledge, fibre, "regain_pct")
    assert low <= REGAIN[fibre][0] <= REGAIN[fibre][1] <= high


@pytest.mark.parametrize("fibre", TENACITY)
def test_tenacity_is_that_of_table_13_1(knowledge, fibre):
    low, high = fact(knowledge, fibre, "tenacity_dry_n_tex")
    assert low <= TENACITY[fibre] <= high


def test_acrylic_is_never_steamed(knowledge):
    """Table 13.7, p. 312: wet at 95 °C acrylic keeps 0.02 of its stiffness and stretches over four times as far."""
    assert press("acrylic", knowledge=knowledge).steam == "no"
