"""Continuous bias from a square: worked examples of teaching pages (common practice), lengths in inches.

They use the area alone, and add about 1 in to the square for its seams; the geometry of two quarter-inch seams asks for half
an inch. The figures given are both.
"""

from __future__ import annotations

import math

import pytest

from advisor.need import answers, bias
from advisor.need.ground import ground


@pytest.mark.parametrize(("side", "strip", "length"), [(20, 2, 200), (12, 2, 72)])
def test_length_from_a_square_is_not_its_area_over_the_strip(side, strip, length):
    assert bias.continuous_length(side, strip) == pytest.approx(length)


@pytest.mark.parametrize(("length", "strip", "side"), [(250, 2, 22.36), (360, 3, 32.86), (100, 3.5, 18.71)])
def test_square_for_a_length_is_not_the_root_of_the_area(length, strip, side):
    assert bias.square_for(length, strip) == pytest.approx(side, abs=0.01)


@pytest.mark.parametrize(("length", "strip", "cut"), [(250, 2, 23), (360, 3, 34)])
def test_square_to_cut_differs_from_the_pages(length, strip, cut):
    """22.36 in is cut 23 in; 32.86 in with 1 in for seams is 34 in. A third page cuts 18.71 in "at least" 19."""
    got = answers.bias(ground(units="imperial"), strip_mm=strip * 25.4, length_m=length * 0.0254)
    assert got.bias.square_to_cut_in == cut


def test_the_page_that_says_at_least_19_in_gets_less():
    got = answers.bias(ground(), strip_mm=3.5 * 25.4, length_m=2.54).bias
    assert 19 <= got.square_to_cut_in <= 20


def test_the_inch_for_seams_is_not_the_high_figure_beside_the_exact_one():
    square = answers.bias(ground(), strip_mm=76.2, length_m=9.144).bias.square_cm
    assert square.low == pytest.approx(32.86 * 2.54, abs=0.02)
    assert square.high == pytest.approx(33.86 * 2.54, abs=0.02)
    assert square.expected - square.low == pytest.approx(1.2)


def test_the_practice_of_a_26_in_square_lies_beyond_what_is_said():
    """A teaching page has just over 5 yd (5 to 5.2) of 3 in strip from a 26 in square: 80 % of its area, seams and ends lost."""
    whole = bias.continuous_length(26, 3)
    assert 5.2 * 36 < bias.continuous_length(26, 3, 0.25) < whole
    assert math.isclose(whole / 36, 6.26, abs_tol=0.01)
