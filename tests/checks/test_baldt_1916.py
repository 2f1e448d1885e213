"""Clothing for Women: Selection, Design, Construction (L. I. Baldt, 1916).

Ch. XXII: the table of measures along the selvedge for true-bias strips, printed in inches and eighths. Draft of the
circular flounce (fig. 56). Beside it the older rule of one third more (A Sewing Course for Teachers, Woolman), which falls
short of the geometry and is not followed.
"""

from __future__ import annotations

import pytest

from advisor.knowledge import shipped_folder
from advisor.need import answers, bias, fullness, tables
from advisor.need.ground import ground

TABLE = {
    0.5: "0-6", 1: "1-3", 1.5: "2-1", 2: "2-6", 2.5: "3-4", 3: "4-2", 3.5: "5-0", 4: "5-5", 4.5: "6-3", 5: "7-1", 5.5: "7-6",
    6: "8-4", 6.5: "9-1", 7: "9-7", 7.5: "10-5", 8: "11-2", 8.5: "12-0", 9: "12-6", 9.5: "13-3",
    10: "14-1", 10.5: "14-7", 11: "15-4",
}  # fmt: skip


@pytest.mark.parametrize(("strip", "printed"), TABLE.items())
def test_a_measure_along_the_selvedge_strays_from_the_table(strip, printed):
    whole, eighths = printed.split("-")
    assert bias.along_selvedge(strip) == pytest.approx(int(whole) + int(eighths) / 8, abs=0.08)


def test_the_older_rule_of_one_third_more_was_followed():
    """Woolman: strip + one third; Baldt's table and geometry: strip x 1.414."""
    assert bias.along_selvedge(6) == pytest.approx(8.5, abs=0.02)
    assert bias.along_selvedge(6) - 6 * 4 / 3 > 0.4


def test_the_circular_flounce_draft_has_other_radii():
    """Fig. 56: top 72 in, bottom 112 in, depth 12 in: radii 21.6 and 33.6 in."""
    ring = fullness.flounce_by_fullness(72, 12, 112 / 72)
    assert ring.inner_cm == pytest.approx(21.6, abs=0.01)
    assert ring.outer_cm == pytest.approx(33.6, abs=0.01)
    assert ring.outer_edge_cm == pytest.approx(112)
    assert ring.inner_edge_cm == pytest.approx(72)


@pytest.mark.parametrize(("style", "low", "high"), [("older", 1.333, 1.5), ("bias", 1.25, 1.333)])
def test_frills_of_1916_have_another_fullness(style, low, high):
    """Constructive processes, parts 4 and 5. Today's extension sheet (Utah State University) asks 2 to 3 of a straight one."""
    times = answers.gathers(ground(), finished_cm=100, style=style).gathers.fullness
    assert (times.low, times.high) == (low, high)
    today = answers.gathers(ground(), finished_cm=100).gathers.fullness
    assert (today.low, today.high) == (2, 3)


def test_self_trimmings_are_cut_to_other_widths():
    """Part 3: plain fold twice, milliner's fold three times; part 4: banding 2 x depth + 1/2 in."""
    styles = tables.read_table(tables.Bias, [shipped_folder()]).styles
    got = {name: bias.cut_width(25.4, rule.times, rule.plus_mm) / 25.4 for name, rule in styles.items()}
    assert [got["single"], got["milliners-fold"], got["band"]] == pytest.approx([2, 3, 2.5])
