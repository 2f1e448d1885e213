"""The width-conversion chart that circulates without its publisher's name: three copies, cell by cell (common practice).

Copies differ in one cell: 66 in, first row, 7/8 yd in copy A, 1 7/8 yd in copy B. Equal area says 7/8.
"""

from __future__ import annotations

import pytest

from advisor.knowledge import shipped_folder
from advisor.need.buying import chart_of, extras_of
from advisor.need.cloth import by_area, convert_width
from advisor.need.units import M_PER_YARD

CHART = chart_of([shipped_folder()])
WIDTHS = [35.5, 39, 41, 44.5, 50, 53, 59, 66]
COPY_A = [
    [1.75, 1.5, 1.5, 1.375, 1.25, 1.125, 1, 0.875],
    [2, 1.75, 1.75, 1.625, 1.5, 1.375, 1.25, 1.125],
    [2.25, 2, 2, 1.75, 1.625, 1.5, 1.375, 1.25],
    [2.5, 2.25, 2.25, 2.125, 1.75, 1.75, 1.625, 1.5],
    [2.875, 2.5, 2.5, 2.25, 2, 1.875, 1.75, 1.625],
    [3.125, 2.75, 2.75, 2.5, 2.25, 2, 1.875, 1.75],
    [3.375, 3, 2.875, 2.75, 2.375, 2.25, 2, 1.875],
    [3.75, 3.25, 3.125, 2.875, 2.625, 2.375, 2.25, 2.125],
    [4.25, 3.5, 3.375, 3.125, 2.75, 2.625, 2.375, 2.25],
    [4.5, 3.75, 3.625, 3.375, 3, 2.75, 2.625, 2.5],
    [4.75, 4, 3.875, 3.625, 3.25, 2.875, 2.75, 2.625],
    [5, 4.25, 4.125, 3.875, 3.375, 3.125, 2.875, 2.75],
]
COPY_B_HEADS = [35.5, 39, 42, 44.5, 50, 53, 60, 65.5]
"""Copy B heads three columns 42, 60 and 65-66 in."""


def yards(length, from_in, to_in):
    return convert_width(length * M_PER_YARD, from_in * 2.54, to_in * 2.54, CHART) / M_PER_YARD


@pytest.mark.parametrize("heads", [WIDTHS, COPY_B_HEADS], ids=["copy A", "copy B"])
@pytest.mark.parametrize("row", COPY_A)
def test_a_cell_differs_from_the_chart(row, heads):
    for width, length in zip(heads, row, strict=True):
        assert yards(row[0], 35.5, width) == pytest.approx(length, abs=1e-9)


@pytest.mark.parametrize("row", COPY_A)
def test_no_row_reads_the_same_from_any_of_its_widths(row):
    for start, given in zip(WIDTHS, row, strict=True):
        for end, wanted in zip(WIDTHS, row, strict=True):
            assert yards(given, start, end) == pytest.approx(wanted, abs=1e-9)


def test_the_misprinted_cell_of_copy_b_was_taken():
    area = by_area(1.75, 35.5, 66)
    assert yards(1.75, 36, 66) == pytest.approx(0.875)
    assert abs(area - 0.875) < 0.1 < abs(area - 1.875)


@pytest.mark.parametrize(
    ("length", "start", "end", "wanted"),
    [(2, 60, 32, 3.75), (2, 60, 45, 2.75), (2, 36, 45, 1.625), (2, 36, 54, 1.375)],
    ids=["the 32 in column is from memory; its sentence is a web page's", "2 yd of 60", "2 yd of 36 to 45", "2 yd of 36 to 54"],
)  # fmt: skip
def test_a_sentence_printed_with_the_chart_is_not_reproduced(length, start, end, wanted):
    assert yards(length, start, end) == pytest.approx(wanted)


def test_the_sentence_that_contradicts_its_own_chart_was_followed():
    """Copy B's text makes 2 7/8 yd of 54 in into 2 1/4 yd of 60 in; its chart, like the others, gives 2 3/4."""
    assert yards(2.875, 54, 60) == pytest.approx(2.75)


def test_the_chart_strays_further_from_equal_area_than_it_does():
    ratios = [length * width / (row[0] * 35.5) for row in COPY_A for width, length in zip(WIDTHS, row, strict=True)]
    assert min(ratios) > 0.89
    assert max(ratios) < 1.13


def test_additions_are_not_a_quarter_yard():
    extras = extras_of([shipped_folder()])
    for added in (extras.one_way_m, extras.large_pieces_m, extras.large_difference_m):
        assert added == pytest.approx(0.2286)
