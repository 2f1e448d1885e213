"""ISO 5077:2007, Textiles: determination of dimensional change in washing and drying.

Change % = 100 (xt - x0) / x0, with x0 the marked distance before and xt after; here shrinkage is that with its sign turned, so
positive means shorter. Cloth to buy = needed / (1 - s). Worked figures: 35 cm to 32 cm is 8.57 % (textile teaching site,
2022); 200 cm to 130 cm is 35 % (feltmaker's teaching note, 2020).
"""

from __future__ import annotations

import pytest

from advisor import prewash

WORKED = [(35, 32, 8.57), (200, 130, 35.0)]


@pytest.mark.parametrize(("before", "after", "percent"), WORKED)
def test_cloth_bought_by_the_factor_still_measures_the_needed_length_after_washing(knowledge, before, after, percent):
    shrinkage = -100 * (after - before) / before
    assert shrinkage == pytest.approx(percent, abs=0.005)
    answer = prewash(f"cotton twill, 200 gsm, measured shrinkage {shrinkage:.4f}%", knowledge=knowledge)
    assert answer.shrinkage.along.low == pytest.approx(percent, abs=0.05)
    assert answer.buy_factor.low == answer.buy_factor.high == pytest.approx(before / after, abs=0.001)


@pytest.mark.parametrize(
    "cloth", ["cotton poplin", "viscose challis", "linen", "denim", "wool flannel", "silk crepe de chine"]
)
def test_the_factor_follows_from_the_shrinkage_that_is_told(knowledge, cloth):
    answer = prewash(cloth, knowledge=knowledge)
    for told, factor in (
        (answer.shrinkage.along.low, answer.buy_factor.low),
        (answer.shrinkage.along.high, answer.buy_factor.high),
    ):
        assert factor == pytest.approx(1 / (1 - told / 100), abs=0.001)


def test_length_and_width_are_told_apart(knowledge):
    answer = prewash("cotton, measured shrinkage 6%, measured shrinkage across 2%", knowledge=knowledge)
    assert (answer.shrinkage.along.low, answer.shrinkage.across.low) == (6, 2)


def test_a_cloth_that_does_not_shrink_needs_no_more_bought(knowledge):
    assert prewash("polyester, measured shrinkage 0%", knowledge=knowledge).buy_factor.high == 1
