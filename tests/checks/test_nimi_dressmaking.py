"""Dress Making, CITS Trade Practical vol. 2, National Instructional Media Institute (India): its worked sums.

Bias pp. 220, frills p. 212, pleats pp. 204-205.
"""

from __future__ import annotations

import pytest

from advisor.need import bias, fullness


def test_joined_bias_cloth_misses_example_1():
    """P. 220, example 1: 500 cm of 2.5 cm strip, no piece under 10 cm, cloth 86 cm: 15.12 cm (with 1.4 for root two)."""
    assert bias.joined_cloth(500, 2.5, 86, 10) == pytest.approx(15.12, abs=0.05)


def test_joined_bias_strip_misses_example_2():
    """P. 220, example 2: 96 x 20 cm, 2 cm strip, no piece under 10 cm: 934.79 cm with 1.4, 935.0 with root two."""
    assert bias.joined_strip(20, 96, 2, 10) == pytest.approx(934.79, abs=0.5)
    assert bias.joined_strip(20, 96, 2, 10) == pytest.approx(935.0, abs=0.05)


def test_strip_across_an_edge_misses_the_top_of_page_220():
    """P. 220: an edge of 62.86 cm gives 88 cm with 1.4; 88.9 with root two."""
    assert bias.strip_across(62.86) == pytest.approx(88, abs=1)


def test_frill_misses_page_212():
    """P. 212: 1.80 m at 3 : 1, 12 cm deep with 3 cm allowances, cloth 1.10 m: 5.40 m, 4.9 strips so 5, 75 cm."""
    for join in (0, 0.6):
        got = fullness.frill(180, 3, 15, 110, join)
        assert got.strip_cm == pytest.approx(540)
        assert (got.strips, got.cloth_cm) == (5, 75)
    assert fullness.frill(180, 3, 15, 110).widths == pytest.approx(4.909, abs=0.001)


def test_frill_exercises_of_page_212_come_out_wrong():
    """P. 212, exercise 3: 1.60 m gathered to two fifths needs 4.00 m. Exercise 2: 9.40 m on 1.19 m cloth, 9.5 cm as cut."""
    assert fullness.frill(160, 2.5, 10, 110).strip_cm == pytest.approx(400)
    for join in (0, 0.6):
        got = fullness.frill(940, 1, 9.5, 119, join)
        assert (got.strips, got.cloth_cm) == (8, 76)


def test_a_whole_number_of_strips_leaves_nothing_for_the_joins():
    """P. 212: one strip more where the count is whole or nearly so."""
    assert fullness.frill(330, 1, 10, 110, 0).strips == 3
    assert fullness.frill(330, 1, 10, 110, 0.6).strips == 4


def test_knife_pleats_miss_page_204():
    """P. 204: 50 cm in 2.5 cm knife pleats: 20 pleats, 150 cm, 152 with the allowance."""
    got = fullness.pleats(50, 2.5, fullness.pleat_count(50, 2.5), 2, 2)
    assert (got.count, got.cut_cm, got.with_allowance_cm, got.ratio) == (20, 150, 152, 3)


@pytest.mark.parametrize(
    ("flat", "depth", "wanted"), [(60, 12, 108), (66, 6.5, 92)], ids=["one box pleat", "one inverted pleat"]
)
def test_a_single_box_or_inverted_pleat_misses_pages_204_and_205(flat, depth, wanted):
    assert fullness.pleats(flat, depth, 1, 4).cut_cm == wanted
