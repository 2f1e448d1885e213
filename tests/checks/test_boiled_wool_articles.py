"""Encyclopaedia article Boiled wool: felted on purpose it loses 20 to 50 % (2016 version), about 30 % (an earlier one). Bought boiled wool has
that behind it: what is told is relaxation alone, and felting stands apart from it."""

from __future__ import annotations

from advisor import prewash


def test_finished_boiled_wool_is_told_to_shrink_as_if_it_were_yet_to_be_felted(knowledge):
    answer = prewash("boiled wool", knowledge=knowledge)
    assert answer.shrinkage.along.high < 20
    assert answer.left_after["1"].felting_each_wash.high > 0
    assert answer.max_c == 0
