"""How long wool lies in the damp sheet: 2 h (Canadian school course), 3 h (a tailor's page, common practice), 12 h (article London shrunk), 24 h
(Conover, A Complete Course in Dressmaking, 1922, an old-book figure). 2 to 12 hours is told. Relaxing is almost over 30 min after wetting
(index record, Relaxation shrinkage in wool fabrics). Stretching wool by 5 % and more in steam comes back (teaching document)."""

from __future__ import annotations

import re

from advisor import prewash


def test_the_hours_told_leave_the_three_modern_sources(knowledge):
    answer = prewash("worsted wool", knowledge=knowledge)
    assert answer.method == "london-shrink"
    low, high = map(int, re.search(r"(\d+) to (\d+) hours", answer.how).groups())
    assert low <= 2 and 3 <= high and high == 12 < 24


def test_steaming_or_london_shrinking_is_said_to_make_wool_washable(knowledge):
    assert "does not make it washable" in prewash("wool flannel", knowledge=knowledge).how


def test_little_relaxation_is_left_after_a_thorough_wetting(knowledge):
    answer = prewash("wool flannel", knowledge=knowledge)
    assert answer.left_after["1"].along.high <= 0.3 * answer.shrinkage.along.high
