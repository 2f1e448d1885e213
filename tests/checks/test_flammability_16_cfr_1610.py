"""16 CFR 1610.1(d): plain-surface cloth of 2.6 oz/yd² (88.2 g/m²) and more is exempt from the flame test, whatever its fibre. Lighter
cotton, viscose, linen or silk is not, and is warned of."""

from __future__ import annotations

import pytest

from advisor import check
from advisor.need.units import gsm_from_oz


def test_two_and_six_tenths_of_an_ounce_are_other_grams():
    assert gsm_from_oz(2.6) == pytest.approx(88.2, abs=0.05)


@pytest.mark.parametrize(("cloth", "warned"), [("cotton voile, 60 gsm", True), ("silk chiffon, 30 gsm", True), ("cotton poplin, 125 gsm", False)])
def test_the_warning_comes_above_the_limit_or_not_below(knowledge, cloth, warned):
    found = check(cloth, ["blouse"], knowledge=knowledge).findings
    assert any("88 g/m²" in f.why for f in found) is warned
