"""Covered buttons: Exalted Notions, EC71-484 (University of Nebraska Extension, 1971), twice the diameter; kit rule + 12 mm.

Buttonholes: Clothing Leaflet 9 (Nebraska 4-H, 1965), diameter + thickness; Tanzania Institute of Education, Form Three (2022),
p. 63, diameter + 3 mm; a sewing handbook cited on a hobby page, both. Loops follow from the first.
"""

from __future__ import annotations

import math

import pytest

from advisor.knowledge import shipped_folder
from advisor.need import answers, closures, tables
from advisor.need.ground import ground

CIRCLES = {
    18: (23.43, 22.86),
    24: (27.24, 30.48),
    30: (31.05, 38.1),
    36: (34.86, 45.72),
    45: (40.575, 57.15),
    60: (50.1, 76.2),
}
"""Ligne → the kit's circle and the gathered one, mm."""


@pytest.mark.parametrize(("ligne", "kit", "gathered"), [(size, *both) for size, both in CIRCLES.items()])
def test_the_circle_to_cut_differs(ligne, kit, gathered):
    for kind, wanted in (("kit", kit), ("gathered", gathered)):
        got = answers.buttons(ground(), diameter_mm=ligne * 0.635, kind=kind).buttons
        assert got.circle_mm.expected == pytest.approx(wanted, abs=0.06)
    assert (
        answers.buttons(ground(), diameter_mm=20, kind="gathered").buttons.circle_mm.high == 50
    )  # 2 to 2.5 times, upholstery
    assert (
        answers.buttons(ground(), diameter_mm=20, kind="mould").buttons.circle_mm.expected == 45
    )  # 2 x diameter + 5 mm


def test_the_two_rules_do_not_cross_at_12_mm():
    assert closures.cover_circle(12, 1, 12) == closures.cover_circle(12, 2, 0)


def test_a_flat_buttonhole_leaves_all_three_rules():
    got = answers.buttons(ground(), diameter_mm=20, button_mm=4).buttons.buttonhole_mm
    assert got.expected == 24  # Clothing Leaflet 9
    assert got.high == 27  # the handbook: diameter + thickness + 3 mm
    other = tables.read_table(tables.Closures, [shipped_folder()]).buttonhole["flat_other"]
    assert 20 + other.plus_mm[1] == 23 < got.expected  # Form Three: diameter + 3 mm


def test_a_ball_button_is_not_half_its_round_and_3_mm():
    got = answers.buttons(ground(), diameter_mm=12, dome_mm=12).buttons.buttonhole_mm
    assert got.expected == pytest.approx(math.pi * 6 + 3, abs=0.06)


def test_the_centre_line_is_nearer_the_edge_than_half_the_button_and_a_quarter_inch():
    """Sewing professionals' standards: half the diameter + 1/4 in; an Indian e-course has half the diameter only."""
    got = answers.buttons(ground(), diameter_mm=20).buttons.edge_mm
    assert got == pytest.approx(10 + 6.35, abs=0.06)
    assert got > 10


def test_even_spacing_misses_its_example():
    """36 cm and 10 buttons give 4 cm (common practice)."""
    assert closures.spacing(360, 10) == 40


def test_the_loop_of_the_example_differs():
    """11 mm button 5 mm thick, ends 8 mm apart, 15 mm allowances: 24 mm showing, 54 cut; a dressmaker's page cuts 5 cm."""
    got = answers.loops(ground(), button_mm=11, thick_mm=5, gap_mm=8, allowance_mm=15).loops
    assert (got.exposed_mm, got.cut_mm) == (24, 54)
    assert got.cut_mm == pytest.approx(50, abs=5)


def test_a_25_mm_strip_no_longer_makes_a_5_mm_tube():
    """Form Three, p. 74: strips of 2.5 cm; a hobby page: 5 mm tube from them. Range of the trade: 4 to 5 times."""
    got = answers.loops(ground(), button_mm=11, tube_mm=5).loops.strip_mm
    assert (got.low, got.high) == (20, 25)
    thin = answers.loops(ground(thickness_mm=0.15), button_mm=11, tube_mm=5).loops.strip_mm
    thick = answers.loops(ground(thickness_mm=0.6), button_mm=11, tube_mm=5).loops.strip_mm
    assert thin.expected == 25
    assert thick.expected == 20
