"""Silk Association of Great Britain, Caring for silk: many silks take a delicate programme at 30 to 40 °C with care; a water stain goes when
the whole piece is dipped in warm water for 2 to 3 min. Washed by hand at no more than 30 °C, silk stays inside that."""

from __future__ import annotations

import pytest

from advisor import prewash


@pytest.mark.parametrize("cloth", ["silk habotai", "silk crepe de chine", "silk noil", "silk charmeuse"])
def test_silk_is_washed_warmer_than_its_own_trade_says(knowledge, cloth):
    answer = prewash(cloth, knowledge=knowledge)
    assert answer.method in ("hand-wash", "machine-gentle")
    assert 20 <= answer.max_c <= 40
