"""Encyclopaedia Britannica, article Cellulose acetate: melts at about 232 °C (450 °F), and softens first. A reference table puts 260 °C
beside it (from memory); the lower figure is told."""

from __future__ import annotations

from advisor import press


def test_acetate_melts_at_another_figure_or_is_pressed_near_it(knowledge):
    facts = knowledge.fibres["acetate"].facts
    assert facts["melts_c"].range == (232, 232)
    assert facts["softens_c"].range.high < 232
    assert press("acetate", knowledge=knowledge).iron.max_c <= facts["softens_c"].range.low - 50
