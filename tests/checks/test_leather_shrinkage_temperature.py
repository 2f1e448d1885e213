"""Conservation Science (textbook), chapter on leather, p. 95: wet leather shrinks for good at 75 to 85 °C (vegetable
tanned), 70 to 80 (aluminium), 53 to 56 (chamois), 100 to 120 (chrome); steam and damp cloths are the danger.
"""

from __future__ import annotations

import pytest

from advisor import press, prewash


@pytest.mark.parametrize("hide", ["leather", "suede leather", "chamois leather"])
def test_hide_is_never_steamed_or_pressed_hotter_than_the_safest_tannage_bears(knowledge, hide):
    answer = press(hide, knowledge=knowledge)
    assert answer.steam == "no"
    assert answer.iron.max_c <= 110


def test_hide_is_not_put_into_hot_water(knowledge):
    assert prewash("leather", knowledge=knowledge).max_c < 53
