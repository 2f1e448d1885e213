"""Elastane and heat on trade pages (common practice): yellow and tacky above 150 °C though unharmed for short spells at 95 to 150; soft
at 160 °C, iron below 150; melts at 230 °C. Study cards on elastomeric fibre put the safe iron at 149 °C; GINETEX lists go by the dot."""

from __future__ import annotations

import pytest

from advisor import press


@pytest.mark.parametrize("cloth", ["elastane", "98% cotton 2% elastane poplin", "cotton jersey 5% elastane", "polyester spandex jersey"])
def test_elastane_is_pressed_where_it_turns_yellow(knowledge, cloth):
    assert press(cloth, knowledge=knowledge).iron.max_c < 149


def test_elastane_is_told_to_soften_or_melt_elsewhere(knowledge):
    facts = knowledge.fibres["elastane"].facts
    assert facts["softens_c"].range.low <= 160 <= facts["softens_c"].range.high
    assert facts["melts_c"].range.low <= 230 <= facts["melts_c"].range.high
