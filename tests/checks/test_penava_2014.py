"""Penava and others, 2014, table 1: thickness (mm, row 6) and mass (g/m², row 5) of four woven cloths, as copied in a
public file. Weighed alone, each cloth's thickness lies in what is told for a plain cloth of its fibre and weight.
"""

from __future__ import annotations

import pytest

from advisor import press

MEASURED = [("cotton, woven", 150.3, 0.318), ("wool, woven", 234.8, 0.568), ("polyester, woven", 164.6, 0.252)]


@pytest.mark.parametrize(("cloth", "gsm", "mm"), MEASURED)
def test_the_thickness_told_for_a_weighed_cloth_holds_the_measured_one(knowledge, cloth, gsm, mm):
    told = press(f"{cloth}, measured {gsm} gsm", knowledge=knowledge).cloth.properties["thickness"]
    assert told.low <= mm <= told.high


@pytest.mark.parametrize(("cloth", "gsm", "mm"), MEASURED)
def test_the_weight_told_for_the_fibre_alone_holds_the_measured_one(knowledge, cloth, gsm, mm):
    told = press(cloth, knowledge=knowledge).cloth.properties["weight"]
    assert told.low <= gsm <= told.high
