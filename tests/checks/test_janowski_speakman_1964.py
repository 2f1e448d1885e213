"""Janowski and Speakman, Heat-yellowing of wool and silk, Nature 204 (1964) 779: both yellow at 150 °C in 24 hours of dry air. Hours
against seconds: a press at the two-dot limit is short, so a dry iron is set down and lifted, and never left."""

from __future__ import annotations

import pytest

from advisor import press


@pytest.mark.parametrize("cloth", ["wool flannel", "silk crepe de chine", "silk habotai"])
def test_wool_or_silk_is_pressed_hotter_or_without_a_cloth(knowledge, cloth):
    answer = press(cloth, knowledge=knowledge)
    assert answer.iron.max_c <= 150
    assert answer.press_cloth
