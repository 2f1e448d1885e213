"""Circles: the circumference relation (Math Central, University of Regina) and worked examples of hobby pages.

The pages (common practice) print rounded radii; the formula is held to, the page to its own rounding.
"""

from __future__ import annotations

import math

import pytest

from advisor.need import answers, fullness
from advisor.need.ground import ground


def test_flounce_from_one_ring_differs():
    """Seam 20 in: r = 3.18 in. Seam 8 in: inner diameter 2.55 in, printed 2.5."""
    assert fullness.flounce_by_rings(20, 5, 1).inner_cm == pytest.approx(3.18, abs=0.01)
    assert 2 * fullness.flounce_by_rings(8, 5, 1).inner_cm == pytest.approx(2.55, abs=0.05)


def test_very_full_flounce_differs():
    """Depth 8 cm, outer over inner edge 5: r = 2.0 cm, outer radius 10.0 cm."""
    ring = fullness.flounce_by_fullness(12, 8, 5)
    assert (ring.inner_cm, ring.outer_cm) == (2, 10)


@pytest.mark.parametrize(
    ("part", "exact", "printed"), [("full", 4.14, 4.13), ("half", 8.28, 8.2), ("quarter", 16.55, 16.56)]
)
def test_circle_skirt_of_26_in_waist_differs(part, exact, printed):
    radius = fullness.circle_skirt(26, 30, answers.turns_of(part)).inner_cm
    assert radius == pytest.approx(exact, abs=0.005)
    assert radius == pytest.approx(printed, abs=0.081)


def test_radius_shares_of_the_waist_differ():
    """0.159, 0.212, 0.318 and 0.637 of the waist for full, three-quarter, half and quarter circles."""
    got = [
        fullness.circle_skirt(1, 1, answers.turns_of(p)).inner_cm for p in ("full", "three-quarter", "half", "quarter")
    ]
    assert got == pytest.approx([0.159, 0.212, 0.318, 0.637], abs=0.0005)


def test_full_circle_yardage_differs():
    """Waist 72, length 60, hem 1.5 cm: R = 72.96; 145.9 cm square in one, 291.8 cm of cloth at least 73.0 wide in halves."""
    for width, sections, length in ((150, 1, 145.9), (145.95, 1, 145.9), (145.8, 2, 291.8), (73, 2, 291.8)):
        got = answers.circle(ground(width_cm=width), waist_cm=72, length_cm=60, hem_cm=1.5).circle
        assert (got.inner_radius_cm, got.cut_outer_radius_cm) == (
            pytest.approx(11.46, abs=0.05),
            pytest.approx(72.96, abs=0.05),
        )
        assert (got.sections, got.cloth_cm) == (sections, pytest.approx(length, abs=0.06))
    narrow = answers.circle(ground(width_cm=72), waist_cm=72, length_cm=60, hem_cm=1.5).circle
    assert narrow.sections > 2


def test_half_circle_yardage_differs():
    """Waist 72, length 60, hem 1.5 cm: r = 22.92, R = 84.42; 168.8 cm of cloth at least 84.4 cm wide."""
    for width in (84.5, 115, 150):
        got = answers.circle(ground(width_cm=width), waist_cm=72, length_cm=60, turns=0.5, hem_cm=1.5).circle
        assert (got.inner_radius_cm, got.cut_outer_radius_cm) == (
            pytest.approx(22.92, abs=0.05),
            pytest.approx(84.42, abs=0.05),
        )
        assert got.sections == 1
        assert got.cloth_cm == pytest.approx(168.8, abs=0.06)


def test_a_full_ring_does_not_add_two_pi_depth_to_its_edge():
    ring = fullness.flounce_by_rings(70, 12, 3)
    assert ring.outer_edge_cm - ring.inner_edge_cm == pytest.approx(3 * 2 * math.pi * 12)
