"""Wang, Ramamoorthi and O'Brien, Data-driven elastic models for cloth, ACM Trans. Graphics 30(4), 2011: open data on measured
cloths, field density (kg/m², here g/m²). A measured cloth lies in the range told for a cloth of that name."""

from __future__ import annotations

import pytest

from advisor import press

MEASURED = [
    ("stretch denim, 99% cotton 1% elastane", 324),  # 11oz-black-denim.json, sold as 11 oz
    ("interlock, 60% cotton 40% polyester", 187),  # gray-interlock.json
    ("ponte roma, 60% polyester 40% viscose", 284),  # camel-ponte-roma.json
]


@pytest.mark.parametrize(("cloth", "gsm"), MEASURED)
def test_a_measured_cloth_lies_in_the_weights_told_for_its_name(knowledge, cloth, gsm):
    told = press(cloth, knowledge=knowledge).cloth
    assert told.not_understood == []
    assert told.properties["weight"].low <= gsm <= told.properties["weight"].high


@pytest.mark.parametrize(("cloth", "gsm"), MEASURED)
def test_a_measured_cloth_surprises_nobody(knowledge, cloth, gsm):
    assert not any("usually" in note for note in press(f"{cloth}, {gsm} gsm", knowledge=knowledge).cloth.notes)
