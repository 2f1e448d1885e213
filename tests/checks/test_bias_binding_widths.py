"""Strips for bindings: bias bindings guideline of a sewing education association; folding-tool lists (common practice)."""

from __future__ import annotations

import pytest

from advisor.knowledge import shipped_folder
from advisor.need import answers, bias, tables
from advisor.need.ground import ground

TABLE = tables.read_table(tables.Bias, [shipped_folder()])


def test_double_fold_is_not_four_times_the_finished_width():
    """Guideline, regular application: 1/4 in finished takes 1 in. Article on bias tape: a quarter of the strip."""
    assert answers.bias(ground(), finished_mm=6.35, style="double").bias.strip_mm == pytest.approx(25.4, abs=1.6)


def test_french_binding_is_not_six_times_the_finished_width():
    """Guideline, French binding."""
    assert answers.bias(ground(), finished_mm=6, style="french").bias.strip_mm == 36


@pytest.mark.parametrize(("tool", "strip"), [(6, 13), (12, 25), (18, 36), (25, 48), (50, 96)])
def test_a_folding_tool_takes_another_strip(tool, strip):
    assert answers.bias(ground(), tool_mm=tool).bias.strip_mm == strip
    assert 1.92 <= bias.tool_strip(tool, TABLE.tools.strip_mm) / tool <= 2.17


def test_the_other_list_for_the_18_mm_tool_is_out_of_reach():
    """One list says 36 mm, another 1 3/8 in (34.9 mm)."""
    assert bias.tool_strip(18, TABLE.tools.strip_mm) == pytest.approx(34.92, abs=1.2)
