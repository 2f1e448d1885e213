"""Figures inside a description: advisor.figures."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.errors import Unclear
from advisor.figures import take
from advisor.ranges import Range


def stated(text, **options):
    return take(text, **options)[1].stated


@given(st.integers(5, 1400))
def test_a_weight_in_grams_is_read_as_it_is_written(gsm):
    assert stated(f"cotton, {gsm} gsm")["weight"] == Range(gsm, gsm)


@given(st.integers(5, 700), st.integers(0, 700))
def test_a_span_is_read_as_both_its_ends(low, more):
    assert stated(f"{low}-{low + more} g/m2")["weight"] == Range(low, low + more)


@pytest.mark.parametrize("text", ["100 to 120 gsm", "100-120gsm", "100–120 g/m²", "110 ± 10 gsm", "110 +/- 10 g/sqm"])
def test_every_way_of_writing_a_range_gives_the_same_range(text):
    assert stated(text)["weight"] == Range(100, 120)


def test_a_comma_is_a_decimal_sign():
    assert stated("0,25 mm thick")["thickness"] == Range(0.25, 0.25)


def test_what_follows_measured_is_measured_and_what_stands_before_is_stated():
    found = take("120 gsm, measured 0.3 mm thick")[1]
    assert set(found.stated) == {"weight"}
    assert set(found.measured) == {"thickness"}


@pytest.mark.parametrize("text", ["-120 gsm", "-3 oz", "drape -2 %"])
def test_a_negative_figure_is_refused(text):
    with pytest.raises(Unclear, match="above nought"):
        take(text)


def test_a_span_written_backwards_is_refused_with_the_right_order():
    with pytest.raises(Unclear) as caught:
        take("120-100 gsm")
    assert caught.value.nearest == "100-120"


@pytest.mark.parametrize("text", ["2 cm wide", "900 cm wide", "12 m wide"])
def test_a_width_that_no_cloth_has_is_refused(text):
    with pytest.raises(Unclear, match="width"):
        take(text)


def test_shares_stay_in_the_text_in_order_so_that_their_fibres_can_be_found():
    text, found = take("55% linen 45% viscose")
    assert text.split() == ["share0", "linen", "share1", "viscose"]
    assert [share for share, _ in found.shares] == [Range(55, 55), Range(45, 45)]


@pytest.mark.parametrize(("text", "ratio"), [("65/35 polyester cotton", (65, 35)), ("40/40/20 mix", (40, 40, 20))])
def test_a_ratio_that_makes_a_hundred_is_a_ratio(text, ratio):
    assert take(text)[1].ratio == ratio


def test_a_thread_count_is_no_ratio():
    assert take("60/40 count cotton")[1].ratio == ()


def test_grams_per_running_metre_without_a_width_are_reckoned_at_a_usual_width_and_said():
    found = take("290 g per running metre")[1]
    assert found.stated["weight"].mid == pytest.approx(290 / 1.45)
    assert any("145 cm" in note for note in found.notes)


@pytest.mark.parametrize(("text", "name", "value"), [
    ("drape coefficient 40%", "drape", 40), ("recovery 92%", "recovery", 92), ("stretch 30%", "stretch_across", 30),
    ("30% stretch", "stretch_across", 30), ("lengthwise stretch 10%", "stretch_along", 10), ("shrinkage 5%", "shrink_along", 5),
    ("shrinkage across 3%", "shrink_across", 3), ("fray grade 3", "fray", 3), ("opacity 4", "opacity", 4), ("slip 2", "slip", 2),
])  # fmt: skip
def test_a_home_test_is_filed_under_what_it_tests(text, name, value):
    assert stated(text) == {name: Range(value, value)}


def test_mm_means_momme_only_where_it_may():
    assert stated("16 mm", momme_word=True)["weight"].mid == pytest.approx(16 * 4.34)
    assert "weight" not in stated("16 mm")


def test_figures_are_taken_out_of_the_text():
    assert not any(ch.isdigit() for ch in take("poplin, 120 gsm, 140 cm wide, 3 m")[0])


@pytest.mark.parametrize(("text", "prop", "low", "high"), [
    ("grows 3 % across", "shrink_across", -3, -3),
    ("growth along 3.2±0.7 %", "shrink_along", -3.9, -2.5),
    ("grew 2-4% in the wash along", "shrink_along", -4, -2),
    ("shrinks 5 % across", "shrink_across", 5, 5),
    ("shrank by 4 % along", "shrink_along", 4, 4),
    ("shrinkage 6 %", "shrink_along", 6, 6),
])  # fmt: skip
def test_growth_is_taken_for_shrinkage_or_the_direction_is_lost(text, prop, low, high):
    found = take(text)[1].stated
    assert set(found) == {prop}
    assert found[prop] == pytest.approx((low, high))


def test_a_negative_shrinkage_is_refused_without_asking_which_was_meant():
    with pytest.raises(Unclear, match="growth across 3 %"):
        take("measured shrinkage across -3 %")


@pytest.mark.parametrize(("text", "width_cm", "length_m", "weight"), [
    ("linen, 2 1/2 yd, 44 1/2 in wide", 113.03, 2.286, None),
    ("6 1/2 oz linen", None, None, 220.387),
    ("1 3/4 yards of lawn", None, 1.6002, None),
    ("cotton 58/60 in wide", 147.32, None, None),
    ("cotton 58/60\" wide, 2 yards", 147.32, 1.8288, None),
    ("poplin 65/35, 3/4 yd", None, 0.6858, None),
])  # fmt: skip
def test_a_fraction_is_read_by_its_bottom_alone(text, width_cm, length_m, weight):
    found = take(text)[1]
    assert (found.width_cm, found.length_m) == (pytest.approx(width_cm), pytest.approx(length_m))
    if weight:
        assert found.stated["weight"].mid == pytest.approx(weight, abs=0.01)
    if "65/35" in text:
        assert found.ratio == (65, 35)


def test_a_thickness_in_inches_is_taken_for_a_width():
    found = take("cotton 0.012 in thick")[1]
    assert found.width_cm is None
    assert found.stated["thickness"].mid == pytest.approx(0.3048)
