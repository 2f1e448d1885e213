"""Garment quality course page (Canadian online school): a narrow folded hem is at most 15 mm deep, a rolled hem at most 3 mm, a deep folded hem over 20 mm."""

from __future__ import annotations

import pytest

from advisor import advise

LIMITS = {"narrow double hem": (0, 15), "narrow rolled hem": (0, 3), "deep turned hem": (20, 999)}


@pytest.mark.parametrize("feature", LIMITS)
def test_a_hem_is_told_deeper_or_narrower_than_its_kind(knowledge, feature):
    (hem,) = [h for h in advise.sew("cotton lawn, 80 gsm", [feature], knowledge=knowledge).hems if h.feature]
    low, high = LIMITS[feature]
    assert low <= hem.depth_mm.low and hem.depth_mm.high <= high
