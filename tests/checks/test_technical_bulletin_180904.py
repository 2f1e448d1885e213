"""Fiber and Fabric Properties, Technical Bulletin 180904 (citing Fourné 1999 and Warner 1995), comparison table: polyamide 6 melts
at 215 °C, polyester at 255 °C (Morton and Hearle print 260), polylactide at 130 to 175 °C by grade, soft from 55 to 60 °C."""

from __future__ import annotations

import pytest

from advisor import press

MELTS_C = {"polyamide": (215, 215), "polyester": (255, 255), "polylactide": (130, 175)}


@pytest.mark.parametrize("fibre", MELTS_C)
def test_the_melting_point_told_leaves_the_bulletin_out(knowledge, fibre):
    told = knowledge.fibres[fibre].facts["melts_c"].range
    low, high = MELTS_C[fibre]
    assert told.low <= low and high <= told.high


@pytest.mark.parametrize("fibre", MELTS_C)
def test_an_iron_comes_near_the_lowest_melting_point(knowledge, fibre):
    assert press(fibre, knowledge=knowledge).iron.max_c <= MELTS_C[fibre][0] - 60


def test_polylactide_is_pressed_at_its_glass_point(knowledge):
    assert press("polylactide", knowledge=knowledge).iron.max_c == 0
