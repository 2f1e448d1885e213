"""Figures as people write them."""

from __future__ import annotations

import pytest

from advisor.errors import Unclear
from advisor.stash import measures


@pytest.mark.parametrize(
    ("text", "units", "metres"),
    [
        ("2 yd", "metric", 1.8288), ("2.5", "metric", 2.5), ("2,5 m", "metric", 2.5), ("1½ yd", "metric", 1.3716),
        ("1 1/2 yards", "metric", 1.3716), ("3/4", "imperial", 0.6858), ("1 yd 9 in", "metric", 1.1430), ("45\"", "metric", 1.143),
        ("2 m 30 cm", "metric", 2.3), ("150cm", "metric", 1.5), ("6'", "metric", 1.8288), ("2 metres and 10 cm", "metric", 2.1),
    ],
)  # fmt: skip
def test_a_length_is_read_in_its_unit(text, units, metres):
    assert measures.length_m(text, units) == pytest.approx(metres, abs=1e-9)


@pytest.mark.parametrize(
    "text", ["", "-1 m", "0", "nan", "inf", "2 furlongs", "m", "1/0 m", "2 3", "2000 m", "1e5", "two", "5 m -1 m"]
)
def test_what_is_no_length_is_refused(text):
    with pytest.raises(Unclear):
        measures.length_m(text)


def test_several_lengths_are_kept_apart():
    assert measures.lengths_m("2 x 1.5 m + 40 cm") == (1.5, 1.5, 0.4)
    assert measures.lengths_m("0") == measures.lengths_m("") == ()


def test_a_width_in_inches_is_read_and_an_impossible_one_refused():
    assert measures.width_cm("45 in") == measures.width_cm("45", "imperial") == 114.3
    with pytest.raises(Unclear):
        measures.width_cm("900")


@pytest.mark.parametrize(
    ("text", "price"),
    [
        ("£12.50", ("12.50", "GBP", "")), ("8,90 EUR a metre", ("8.90", "EUR", "m")), ("$6/yd", ("6", "$", "yd")),
        ("1,200.50", ("1200.50", "", "")), ("1.200,50 €", ("1200.50", "EUR", "")), ("12 GBP per m", ("12", "GBP", "m")),
    ],
)  # fmt: skip
def test_a_price_keeps_its_figures_and_currency(text, price):
    assert measures.price(text) == price


@pytest.mark.parametrize("text", ["free", "-3", "£", "3 4 x", "£3 GBP", "nan"])
def test_what_is_no_price_is_refused(text):
    with pytest.raises(Unclear):
        measures.price(text)


@pytest.mark.parametrize(
    ("text", "order", "day"),
    [
        ("2024", "", "2024"), ("May 2024", "", "2024-05"), ("3 May 2024", "", "2024-05-03"), ("May 3, 2024", "", "2024-05-03"),
        ("23/05/2024", "", "2024-05-23"), ("05/23/2024", "", "2024-05-23"), ("03/05/2024", "dmy", "2024-05-03"),
        ("03/05/2024", "mdy", "2024-03-05"), ("2024-05-03 00:00:00", "", "2024-05-03"),
    ],
)  # fmt: skip
def test_a_day_is_read_and_kept_year_first(text, order, day):
    assert measures.day(text, order) == day


@pytest.mark.parametrize(
    ("text", "order"), [("03/05/2024", ""), ("2024-13", ""), ("30 Feb 2024", ""), ("soon", ""), ("23/05/2024", "mdy")]
)
def test_a_day_that_could_be_two_or_none_is_refused(text, order):
    with pytest.raises(Unclear):
        measures.day(text, order)


def test_shown_lengths_never_promise_more_than_is_there():
    assert measures.show_length(1.8299, "metric") == "1.82 m"
    assert measures.show_length(1.8288, "imperial") == "2.00 yd (1.82 m)"
