"""Yards of bias strip from 1 yd of cloth: a chart of hobby pages (common practice), and an old leaflet beside it."""

from __future__ import annotations

import pytest

from advisor.need import answers
from advisor.need.ground import ground

STRIPS = [1.25, 1.75, 2.25, 2.75, 3.75]
CHART = {35: [23, 15, 12, 10, 8], 45: [30, 21.5, 16, 14, 10], 54: [37, 26, 20, 16.5, 12], 60: [40, 29, 22.5, 19, 14]}
CELLS = [(width, strip, yards) for width, row in CHART.items() for strip, yards in zip(STRIPS, row, strict=True)]


def had(width_in, strip_in, cloth_yd=1.0):
    got = answers.bias(ground(width_cm=width_in * 2.54, have_m=cloth_yd * 0.9144), strip_mm=strip_in * 25.4).bias
    return got.from_piece_m.each(lambda m: m / 0.9144), got.from_piece_by_area_m / 0.9144


@pytest.mark.parametrize(("width", "strip", "yards"), CELLS)
def test_a_cell_differs_from_the_chart(width, strip, yards):
    got, area = had(width, strip)
    assert got.expected == pytest.approx(yards, abs=0.5)
    assert 0.749 <= yards / area <= 0.881


def test_the_mean_share_is_not_five_sixths():
    shares = [yards * strip / width / 36 * 36 / 36 for width, strip, yards in CELLS]
    assert sum(shares) / len(shares) * 36 == pytest.approx(0.83, abs=0.005)


def test_the_old_leaflet_lies_outside_the_range():
    """1 yd of 35 in in 1 1/2 in strips: 20 yd (86 % of the area); the chart's own neighbours would give 18."""
    got, area = had(35, 1.5)
    assert got.low <= 20 <= got.high
    assert got.expected == pytest.approx(20, abs=1)
    assert area == pytest.approx(23.3, abs=0.05)


def test_the_impossible_leaflet_figure_was_followed():
    """1/4 yd of 40 in is said to give 10 yd of 1 1/4 in strip; the bare area is 8 yd."""
    got, area = had(40, 1.25, 0.25)
    assert area == pytest.approx(8, abs=0.02)
    assert got.high < 8
