"""Light, medium and heavy mean seven different things: a dictionary article (30 to 150, to 350), guide A by ounces (136, 237, 407), guide B (100,
170, 230, 340), guide C (50 to 170, 170 to 340), tartan guide D (70 to 150, to 350), a sewing article (136, 170); all common practice. The bands
told overlap, so that a weight between two guides bears both words, and each guide's light begins no heavier than the advisor's ends."""

from __future__ import annotations

import pytest

LIGHT = {"dictionary": (30, 150), "guide A": (0, 237), "guide B": (20, 170), "guide C": (50, 170), "guide D": (70, 150), "article": (0, 136)}
HEAVY_FROM = {"dictionary": 350, "guide A": 407, "guide B": 340, "guide C": 340, "guide D": 350}


@pytest.mark.parametrize("guide", LIGHT)
def test_light_cloth_is_none_in_a_guide(knowledge, guide):
    band = knowledge.properties["weight"].bands["light"]
    low, high = LIGHT[guide]
    assert band.low < high and low < band.high


@pytest.mark.parametrize("guide", HEAVY_FROM)
def test_heavy_cloth_begins_where_no_guide_is_heavy_yet(knowledge, guide):
    heavy = knowledge.properties["weight"].bands["heavy"]
    assert heavy.low < HEAVY_FROM[guide] < heavy.high


def test_two_words_never_share_a_weight(knowledge):
    bands = knowledge.properties["weight"].bands
    assert bands["medium"].low < bands["light"].high
    assert bands["heavy"].low < bands["medium"].high
