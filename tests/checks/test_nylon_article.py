"""Encyclopaedia article Nylon (copy of August 2019), property box: the nylons melt at 190 to 350 °C. The two that are sewn are nylon 6
(215 °C) and nylon 6.6 (260 °C); the rest of that family does not come as cloth, so the narrower span is told."""

from __future__ import annotations

from advisor import press


def test_the_nylons_that_are_sewn_lie_outside_the_family(knowledge):
    told = knowledge.fibres["polyamide"].facts["melts_c"].range
    assert 190 <= told.low and told.high <= 350


def test_the_iron_would_melt_the_lowest_of_the_family(knowledge):
    assert press("polyamide", knowledge=knowledge).iron.max_c < 190 - 60
