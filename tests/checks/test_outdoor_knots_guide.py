"""Pocket guide to outdoor knots, p. 26: polyamide and polyester cord melts at 245 to 250 °C, polypropylene at 150 °C. Morton and
Hearle, table 18.1, has 260 °C for polyester and 170 °C for polypropylene: the fibre table is told, and no iron comes near either."""

from __future__ import annotations

import pytest

from advisor import press

CORD_C = {"polyamide": 245, "polyester": 245, "polypropylene": 150}


@pytest.mark.parametrize("fibre", CORD_C)
def test_the_iron_would_glaze_what_the_lower_figure_melts(knowledge, fibre):
    assert press(fibre, knowledge=knowledge).iron.max_c <= CORD_C[fibre] - 50


def test_polypropylene_is_told_by_the_rope_book(knowledge):
    assert knowledge.fibres["polypropylene"].facts["melts_c"].range == (170, 170)


def test_polyamide_cord_lies_outside_the_two_nylons(knowledge):
    told = knowledge.fibres["polyamide"].facts["melts_c"].range
    assert told.low <= 245 <= 250 <= told.high
