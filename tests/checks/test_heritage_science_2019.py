"""Heritage Science 7 (2019), article 0292-8, table 3: new vegetable-tanned leather shrinks at 67.2 to 80.7 °C when wet, by species and
tannin. Boiling steam is hotter than all of these."""

from __future__ import annotations

import pytest

from advisor import press, prewash


@pytest.mark.parametrize("hide", ["leather", "sheepskin leather", "suede leather"])
def test_hide_meets_steam_or_water_near_its_shrinkage_temperature(knowledge, hide):
    assert press(hide, knowledge=knowledge).steam == "no"
    assert prewash(hide, knowledge=knowledge).max_c < 67.2 - 20
