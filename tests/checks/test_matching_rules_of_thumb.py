"""Matching: The Sewtionary, p. 257, at least 25 % more for plaid; home sewers' poll, half to one yard; plaids guideline and trade page, one repeat for each main piece (4 in, four
pieces: 16 in). They differ: the repeat decides, the low figure holds one repeat, and 25 % is kept beside them for a large check."""

from __future__ import annotations

import pytest

from advisor.knowledge import shipped_folder
from advisor.need import answers, tables
from advisor.need.ground import ground


def test_a_quarter_more_is_not_kept():
    assert tables.read_table(tables.Laying, [shipped_folder()]).repeat_share_pct.value == 25


def test_four_pieces_of_a_four_inch_repeat_take_other_than_sixteen_inches():
    plain = answers.width(ground(), length_m=2, from_cm=140).width.needed_m
    matched = answers.width(ground(), length_m=2, from_cm=140, repeat_cm=10.16, pieces=4).width.needed_m
    assert matched.expected - plain.expected == pytest.approx(0.4064, abs=0.002)
    assert matched.low - plain.low == pytest.approx(0.1016, abs=0.002)


def test_the_polls_half_yard_to_a_yard_is_out_of_reach():
    """Six pieces of a 10 cm repeat lie within half a yard to a yard."""
    plain = answers.width(ground(), length_m=2, from_cm=140).width.needed_m.expected
    extra = answers.width(ground(), length_m=2, from_cm=140, repeat_cm=10, pieces=6).width.needed_m.expected - plain
    assert 0.457 <= extra <= 0.914
