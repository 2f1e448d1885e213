"""Suitings are weighed by the running length of about 145 cm (58 in): tailors' pages (common practice) have summer cloth at 217 to 248 g/m (7 to 8 oz a
yard), all-season at 248 to 372, winter from 372; another 200 to 350 as usual, to 240 for summer, 240 to 270 for four seasons. By area that is a
third less."""

from __future__ import annotations

import pytest

from advisor.need.units import gsm_from_running
from advisor.words import describe

RUNNING = {217: 150, 248: 171, 372: 257, 240: 166, 270: 186}


@pytest.mark.parametrize(("per_metre", "gsm"), RUNNING.items())
def test_a_running_metre_is_taken_for_a_square_one(per_metre, gsm):
    assert gsm_from_running(per_metre, 145) == pytest.approx(gsm, abs=1)


@pytest.mark.parametrize("per_metre", RUNNING)
def test_a_suiting_said_by_the_metre_is_read_by_the_square(knowledge, per_metre):
    said = describe(f"wool suiting, {per_metre} g/m, 145 cm wide", knowledge).figures.stated["weight"]
    assert said.mid == pytest.approx(per_metre / 1.45, rel=0.01)


def test_seven_ounces_a_yard_are_other_grams_a_metre():
    assert 7 * 28.349523 / 0.9144 == pytest.approx(217, abs=0.5)
    assert 12 * 28.349523 / 0.9144 == pytest.approx(372, abs=0.5)
