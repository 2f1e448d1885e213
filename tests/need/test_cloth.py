"""Cloth to buy: shrinkage both ways, one-way cloth, repeats, tables with several widths, a piece in hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as some

from advisor.errors import Unclear
from advisor.knowledge import shipped_folder
from advisor.need import cloth
from advisor.need.buying import chart_of, extras_of
from advisor.need.cloth import Amount, Lay, Row, Shrinks
from advisor.ranges import Range

CHART, EXTRAS = chart_of([shipped_folder()]), extras_of([shipped_folder()])


def bought(rows, width, along=(0, 0), across=(0, 0), **lay):
    return cloth.buy(rows, width, Shrinks(Range(*along), Range(*across)), Lay(**lay), CHART, EXTRAS)


def test_a_140_cm_cloth_that_shrinks_5_percent_is_not_133_cm_wide():
    assert cloth.after_washing(140, 0.05) == pytest.approx(133)
    assert bought([Row(2, 140)], 140, across=(0.05, 0.05)).usable_cm == Amount(133, 133, 133)


def test_narrowing_in_the_wash_costs_no_length():
    plain, narrowed = bought([Row(2, 140)], 140), bought([Row(2, 140)], 140, across=(0.1, 0.1))
    assert plain.length_m.expected == 2
    assert narrowed.length_m.expected > 2.1


def test_a_table_line_at_the_very_width_is_converted():
    got = bought([Row(1.9, 140), Row(2.4, 115)], 115)
    assert got.length_m.expected == 2.4
    assert got.pattern_m == Amount(2.4, 2.4, 2.4)


def test_a_width_between_two_lines_leaves_their_bounds():
    for width in range(116, 140):
        got = bought([Row(1.9, 140), Row(2.4, 115)], width).pattern_m
        assert 1.9 <= got.low <= got.expected <= got.high <= 2.4


def test_with_nap_lines_are_lengthened_again():
    rows = [Row(2, 140), Row(2.3, 140, "with")]
    assert bought(rows, 140, one_way=True).length_m.expected == 2.3
    assert bought(rows, 140).length_m.expected == 2
    assert bought(rows[:1], 140, one_way=True).length_m.expected == pytest.approx(2.2286)


def test_what_may_be_one_way_changes_more_than_the_high_figure():
    got, plain = bought([Row(2, 140)], 140, may_be_one_way=True).length_m, bought([Row(2, 140)], 140).length_m
    assert (got.low, got.expected) == (plain.low, plain.expected)
    assert got.high > plain.high


def test_large_pieces_repeats_and_spare_are_lost():
    got = bought([Row(2, 140)], 140, large_pieces=True, repeat_cm=10, pieces=3, spare=0.1).length_m
    assert got.expected == pytest.approx((2 + 0.2286 + 0.3) * 1.1)
    assert got.low == pytest.approx((2 + 0.2286 + 0.1) * 1.1)


def test_shrinkage_of_everything_is_divided_by():
    with pytest.raises(Unclear):
        cloth.before_washing(2, 1)


lengths, widths, shares = some.floats(0.2, 12), some.floats(40, 200), some.floats(0, 0.3)


@given(lengths, widths, widths, shares, shares, some.booleans(), some.floats(0, 60), some.integers(1, 8))
def test_more_shrinkage_or_less_width_ever_asks_less_cloth(
    length, start, width, along, across, one_way, repeat, pieces
):
    lay = {"one_way": one_way, "repeat_cm": repeat, "pieces": pieces}
    got = bought([Row(length, start)], width, (0, along), (0, across), **lay).length_m
    assert 0 < got.low <= got.expected <= got.high
    worse = bought([Row(length, start)], width, (along, along), (across, across), **lay).length_m
    assert worse.high == pytest.approx(got.high)
    assert (
        bought([Row(length, start)], width * 0.9, **lay).length_m.expected
        >= bought([Row(length, start)], width, **lay).length_m.expected - 1e-9
    )


@given(lengths, some.floats(60, 180), some.floats(60, 180))
def test_the_chart_there_and_back_is_another_length(length, start, end):
    there = cloth.convert_width(length, start, end, CHART)
    assert cloth.convert_width(there, end, start, CHART) == pytest.approx(length, rel=1e-6)


def test_a_piece_in_hand_is_told_wrong():
    needed = Amount(1.7, 1.9, 2.1)
    assert [cloth.piece_serves(had, needed).serves for had in (1.6, 1.8, 2.1)] == ["no", "maybe", "yes"]
    assert cloth.piece_serves(1.6, needed).short_m.expected == pytest.approx(0.3)
