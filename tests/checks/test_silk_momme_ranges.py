"""Weights of silks, trade ranges in momme at 4.34 g/m² (several trade pages, common practice), g/m²: habotai 22 to 69 (one guide) or 52 to 69, chiffon
26 to 35, crepe de chine 52 to 69, gauze 13 to 22, organza 17 to 26, charmeuse 52 to 130 (another guide to 174), raw silk 152 to 174, noil 130 to
152, dupion about 82. Raw silk and noil are used for each other, so both are told as one span."""

from __future__ import annotations

import pytest

from advisor import press

PRINTED = {
    "silk habotai": (22, 69),
    "silk chiffon": (26, 35),
    "silk crepe de chine": (52, 69),
    "silk gauze": (13, 22),
    "silk organza": (17, 26),
    "silk charmeuse": (52, 130),
    "raw silk": (152, 174),
    "silk noil": (130, 152),
    "silk dupion": (82, 82),
}


@pytest.mark.parametrize("cloth", PRINTED)
def test_the_weight_told_for_a_name_misses_the_printed_one(knowledge, cloth):
    told = press(cloth, knowledge=knowledge).cloth.properties["weight"]
    low, high = PRINTED[cloth]
    assert told.low <= high and low <= told.high, told


@pytest.mark.parametrize(("momme", "gsm"), [(16, 69), (12, 52), (8, 35), (40, 174), (19, 82)])
def test_momme_come_to_other_grams_than_the_guides_print(momme, gsm):
    from advisor.need.units import gsm_from_momme

    assert gsm_from_momme(momme) == pytest.approx(gsm, abs=1)


def test_habotai_leaves_out_the_lighter_guide(knowledge):
    told = press("silk habotai", knowledge=knowledge).cloth.properties["weight"]
    assert told.low <= 22 and told.high >= 69
