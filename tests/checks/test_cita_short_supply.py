"""US Committee for the Implementation of Textile Agreements, short-supply specifications: mass in g/m².

The lists as reprinted by a trade-law journal, each with its date. A cloth so specified lies in the range told for its name."""

from __future__ import annotations

import pytest

from advisor import press

SPECIFIED = [
    ("pinwale corduroy, cotton", 133, 147),  # 29 March 2013, fine corduroy of 19 to 23 wales per inch
    ("three-thread fleece, 60% cotton 40% polyester", 233.9, 267.8),  # 22 March 2013
    ("viscose challis twill", 152, 168),  # November 2016, target 160
    ("brushed twill, cotton", 176, 182),  # April 2005, emerised four-thread twill shirting
]


@pytest.mark.parametrize(("cloth", "low", "high"), SPECIFIED)
def test_a_specified_cloth_lies_in_the_weights_told_for_its_name(knowledge, cloth, low, high):
    told = press(cloth, knowledge=knowledge).cloth.properties["weight"]
    assert told.low - 1 <= low <= high <= told.high + 1


def test_cotton_flannel_shirting_can_weigh_under_200(knowledge):
    """August 2004: yarn-dyed cotton 2/1 twill flannel of 200 g/m² or less."""
    assert press("cotton flannel", knowledge=knowledge).cloth.properties["weight"].low < 200
