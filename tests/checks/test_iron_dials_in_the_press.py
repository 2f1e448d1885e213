"""A German newspaper's explainer on care symbols (September 2023): one dot 80 to 105, two dots 130 to 165, three dots 165 to 220 °C. A
label list in a public repository has the 2023 limits, 120, 160 and 210. Dials go past the limits of ISO 3758:2012 (110, 150, 200), which
are followed, so the sheet says that irons swing and that a scrap is tried first (scope of IEC 60311:2016: performance, not safety)."""

from __future__ import annotations

import pytest

from advisor.cli import run

DIAL_C = {1: (80, 105), 2: (130, 165), 3: (165, 220)}
LABELS_2023_C = {1: 120, 2: 160, 3: 210}


@pytest.mark.parametrize("level", DIAL_C)
def test_a_limit_lies_away_from_what_dials_reach(knowledge, level):
    (setting,) = [entry for entry in knowledge.iron.values() if entry.level == level]
    low, high = DIAL_C[level]
    assert low <= setting.max_c <= max(high, 110)
    assert setting.max_c_2023 == LABELS_2023_C[level]


def test_the_sheet_hides_that_irons_swing_or_says_it_twice(knowledge, capsys):
    assert run(["press", "wool crepe"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert out.count("Irons swing round their setting") == 1
    assert out.count("3758") == 1
