"""The arrival sheet: what is checked, for how long a piece, and what the parcel should weigh."""

from __future__ import annotations

import pytest

from advisor import advise
from advisor.errors import Unclear


def rules(cloth, knowledge):
    return {line.rule for line in advise.inspect(cloth, knowledge=knowledge).checks if line.certainty == "sure"}


def test_only_cloth_whose_yarns_move_is_pulled_straight(knowledge):
    assert "arrive-skew-pulls-straight" in rules("cotton poplin, 125 gsm", knowledge)
    for cloth in ("polyester satin, 110 gsm", "cotton, pvc coated"):
        found = rules(cloth, knowledge)
        assert "arrive-skew-stays" in found, cloth
        assert "arrive-skew-pulls-straight" not in found, cloth


def test_a_knit_rests_overnight_and_a_woven_need_not(knowledge):
    assert "arrive-knit-rests" in rules("cotton jersey", knowledge)
    assert "arrive-knit-rests" not in rules("cotton poplin, 125 gsm", knowledge)


def test_old_cloth_is_tugged(knowledge):
    assert "arrive-old-tug" in rules("silk taffeta, vintage", knowledge)
    assert "arrive-old-tug" not in rules("cotton poplin, 125 gsm", knowledge)


def test_the_parcel_weighs_length_times_width_times_weight(knowledge):
    weight = advise.inspect("cotton poplin, 120 gsm, 150 cm wide", metres=2, knowledge=knowledge).weight_g
    assert weight.low <= 2 * 1.5 * 120 <= weight.high


@pytest.mark.parametrize("metres", [0.2, 1, 3, 12])
def test_the_width_is_measured_within_the_piece(knowledge, metres):
    places = advise.inspect("cotton poplin", metres=metres, knowledge=knowledge).measure_at_m
    assert places == sorted(places)
    assert 0 < places[0] <= places[-1] <= metres


@pytest.mark.parametrize("metres", [0, -1, 10_000])
def test_a_length_that_cannot_be_is_refused(knowledge, metres):
    with pytest.raises(Unclear):
        advise.inspect("cotton poplin", metres=metres, knowledge=knowledge)
