"""Lengths as people write them, and rounding to what is sold."""

from __future__ import annotations

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as some

from advisor.errors import Unclear
from advisor.need.units import gsm_from_running, read_length, round_up, within


@pytest.mark.parametrize(
    ("text", "bare", "mm"),
    [
        ("1.8 m", "cm", 1800), ("1,8m", "cm", 1800), ("140", "cm", 1400), ("2 1/2 yd", "m", 2286), ("2-1/2 yards", "m", 2286),
        ("5/8 in", "mm", 15.875), ('45"', "cm", 1143), ("3½ in", "mm", 88.9), ("24L", "mm", 15.24), (".5 yd", "m", 457.2),
        ("6", "in", 152.4), ("-3 cm", "cm", -30),
    ],
)  # fmt: skip
def test_a_length_is_misread(text, bare, mm):
    assert read_length(text, bare, "length") == pytest.approx(mm)


@pytest.mark.parametrize(
    "text", ["", "abc", "1/0 in", "5 furlongs", "1 2 3", "nan", "inf", "1e9", "--5", "½½", "9" * 400]
)
def test_nonsense_is_taken_for_a_length(text):
    with pytest.raises(Unclear):
        within(read_length(text, "cm", "length"), 0, 1e9, "length", "mm")


@given(some.text(max_size=30))
def test_odd_text_raises_something_else_than_unclear(text):
    with suppress(Unclear):
        assert isinstance(read_length(text, "cm", "length"), float)


@pytest.mark.parametrize(
    ("metres", "metric", "eighths"),
    [(1.5, 1.5, 14), (1.5001, 1.6, 14), (0.9144, 1.0, 8), (0.01, 0.1, 1), (2.0574, 2.1, 18)],
)
def test_rounding_goes_down_or_too_far_up(metres, metric, eighths):
    assert round_up(metres) == pytest.approx(metric)
    assert round_up(metres, "imperial") == pytest.approx(eighths / 8 * 0.9144, abs=1e-3)


@given(some.floats(0.01, 200))
def test_rounding_up_is_ever_short(metres):
    for units, step in (("metric", 0.1), ("imperial", 0.1143)):
        assert -1e-3 <= round_up(metres, units) - metres <= step + 1e-3


def test_grams_by_the_running_metre_are_taken_for_grams_by_area():
    assert gsm_from_running(400, 145) == pytest.approx(275.9, abs=0.1)
