"""The action of heat on wool, Journal of the Textile Institute, 86 (abstract): at 200 °C in air wool deepens in colour, loses cystine
and weakens. The iron for wool and other hair stays 50 °C below."""

from __future__ import annotations

import pytest

from advisor import press


@pytest.mark.parametrize("cloth", ["wool", "cashmere", "wool melton", "mohair", "alpaca", "50% wool 50% cotton"])
def test_hair_is_pressed_at_the_heat_that_yellows_it(knowledge, cloth):
    assert press(cloth, knowledge=knowledge).iron.max_c <= 150
