"""Needles by cloth in domestic machine manuals (several agree, common practice): crepe de chine, voile, lawn, organdie Nm 65 to 75; linen, cotton, pique 75 to 90; denim, tweed, gabardine,
coating 90 to 100. Filmy cloth Nm 65 (Indian e-course). Sheers Nm 90 in a leaflet of 1969 (EC69-458), coarser than every other source, is not followed."""

from __future__ import annotations

import pytest

from advisor import advise

PRINTED = {
    "crepe de chine": (65, 75), "cotton voile": (65, 75), "cotton lawn": (65, 75), "cotton organdie": (65, 75),
    "linen, 200 gsm": (75, 90), "cotton pique": (75, 90), "denim, 400 gsm": (90, 100), "tweed": (90, 100), "wool gabardine": (90, 100),
    "silk organza": (65, 65),
}  # fmt: skip


@pytest.mark.parametrize("cloth", PRINTED)
def test_the_needle_misses_the_manuals(knowledge, cloth):
    told = advise.sew(cloth, knowledge=knowledge).needle.nm
    low, high = PRINTED[cloth]
    assert told.low <= high and low <= told.high


@pytest.mark.parametrize("cloth", ["silk chiffon", "silk organza", "cotton voile"])
def test_a_sheer_is_given_the_needle_of_1969(knowledge, cloth):
    assert advise.sew(cloth, knowledge=knowledge).needle.nm.high < 90
