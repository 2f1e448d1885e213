"""Joining bias: 6.35 mm seams (sewing teaching pages agree, common practice), about 5 mm on the straight grain (self-sufficiency handbook, Binding in sewing, step 3). The
6 mm taken lies between them. Folded tape is a quarter of its strip (encyclopaedia article Bias tape). A 40 mm strip binds a garment with a first row at
10 mm (the handbook): four times 10."""

from __future__ import annotations

from advisor.knowledge import shipped_folder
from advisor.need import answers, tables
from advisor.need.ground import ground

TABLE = tables.read_table(tables.Bias, [shipped_folder()])


def test_the_join_leaves_both_sources():
    assert 5 <= TABLE.join_seam_mm.value <= 6.35


def test_folded_tape_is_no_quarter_of_its_strip():
    assert TABLE.styles["double"].times == 1 / 0.25


def test_a_row_at_10_mm_takes_no_40_mm_strip():
    assert answers.bias(ground(), finished_mm=10, style="double").bias.strip_mm == 40
