"""Temperatures of the hot-pressing fastness test by fibre, from a textile teaching article on colour fastness to hot
pressing (list of important points): cotton and linen 190-200 °C; wool, silk and viscose 140-160 °C; acetate and
polyamide 115-120 °C. A safe iron is no hotter than the hottest that the fibre is tested at."""

from __future__ import annotations

import pytest

from advisor import press

TESTED_AT = {
    "cotton": 200, "linen": 200, "wool": 160, "silk": 160, "viscose": 160, "acetate": 120, "polyamide": 120,
}  # fmt: skip


@pytest.mark.parametrize("fibre", TESTED_AT)
def test_the_iron_is_never_hotter_than_the_fibre_is_tested_at(knowledge, fibre):
    assert press(fibre, knowledge=knowledge).iron.max_c <= TESTED_AT[fibre]
