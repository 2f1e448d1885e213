"""Stretch in %: (stretched - rest) / rest. Worked figures of sewing guides (common practice): 4 in to
5, 6, 8 and 10 in; 10 in to 14 in.

Weight of a swatch: 100 × grams for 10 by 10 cm (common practice); a page prints 150 g/m² for 15 g where 1,500 is right.
"""

from __future__ import annotations

import pytest

from advisor import hometests as h


@pytest.mark.parametrize(("rest", "stretched", "percent"), [(4, 5, 25), (4, 6, 50), (4, 8, 100), (10, 14, 40), (4, 10, 150)])
def test_stretch_differs_from_the_guides(rest, stretched, percent):
    assert h.stretch(rest, stretched) == pytest.approx(percent)


@pytest.mark.parametrize(("grams", "gsm"), [(1.5, 150), (15, 1500)])
def test_a_swatch_is_out_by_ten(grams, gsm):
    assert h.grammage(grams, 0.1, 0.1) == pytest.approx(gsm)


@pytest.mark.parametrize(("before", "after", "percent", "within"), [
    (35, 32, 8.57, 0.005),  # textile teaching site, 2022
    (112, 103.75, 7.4, 0.05), (112, 106.5, 4.91, 0.01),  # flannel measured before and after washing (common practice, 2017)
    (12.5, 12.25, 2, 0.001), (12.5, 12.125, 3, 0.001),  # the eighth-inch rule (common practice)
    (200, 130, 35, 0.001),  # feltmaker's teaching note, 2020
    (35, 33, 5.71, 0.005),  # ISO 5077 against a page that divides by the length after and prints 6
])  # fmt: skip
def test_shrinkage_of_the_marked_square_differs_from_worked_figures(before, after, percent, within):
    assert h.shrinkage(before, after) == pytest.approx(percent, abs=within)
