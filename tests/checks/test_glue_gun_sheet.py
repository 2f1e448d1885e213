"""School safety sheet, Glue gun (January 2018): nozzle and glue up to 195 °C. School and hobby pages (common practice): 165 or 193 °C at
the high setting, 105 or 121 °C at the low. The highest is told."""

from __future__ import annotations

from advisor import check


def test_hot_glue_is_told_cooler_than_the_hottest_gun(knowledge):
    found = [f for f in check("mesh with plastic sequins", ["dress"], knowledge=knowledge).findings if "glue" in f"{f.say} {f.do}".lower()]
    assert any("195" in f.why for f in found)
