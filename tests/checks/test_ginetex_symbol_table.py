"""GINETEX, Table of textile care symbols (stored copy): hand wash at most 40 °C; tumble dryer 60 °C at one dot, 80 °C at two; iron 110,
150, 200 °C. ISO 3758, tables 1 to 4, as repeated on a trade page (common practice) prints 30 °C for hand wash: the cooler is advised.
Wash tubs in use: 30, 40, 50, 60, 70 and 95 °C (general article on the system)."""

from __future__ import annotations

import pytest

from advisor import prewash

TUBS_C = {0, 30, 40, 50, 60, 70, 95}
IRON_C = {1: 110, 2: 150, 3: 200}


def test_an_iron_setting_is_not_the_table(knowledge):
    assert {e.level: e.max_c for e in knowledge.iron.values() if e.level} == IRON_C


@pytest.mark.parametrize("cloth", ["silk habotai", "viscose challis", "silk crepe de chine, 60 gsm"])
def test_a_hand_wash_is_warmer_than_the_cooler_printing(knowledge, cloth):
    answer = prewash(cloth, knowledge=knowledge)
    assert answer.method == "hand-wash"
    assert answer.max_c <= 30


@pytest.mark.parametrize("cloth", ["cotton poplin", "linen", "denim", "cotton jersey", "polyester", "wool flannel", "calico", "acetate lining"])
def test_a_wash_is_told_at_a_heat_that_no_label_has(knowledge, cloth):
    assert prewash(cloth, knowledge=knowledge).max_c in TUBS_C
