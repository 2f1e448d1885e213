"""ISO 4915 stitch types (Garment Sewing, e-course, Indian Council of Agricultural Research): 301 lockstitch, 401 two-thread chain, 503, 504 and 514 overedge with two, three and four
threads, 515 safety stitch; 304 zigzag (apparel teaching site). Classes 100 to 600; a seventh stands in that one list only."""

from __future__ import annotations

import pytest

from advisor.knowledge import shipped_folder
from advisor.need import answers, tables
from advisor.need.ground import ground

TYPES = {"301": "lockstitch", "304": "zigzag", "401": "chainstitch", "503": "overlock-2", "504": "overlock-3", "514": "overlock-4", "515": "safety"}
CLASSES = {"1", "2", "3", "4", "5", "6"}


@pytest.mark.parametrize("code", TYPES)
def test_a_number_means_another_stitch(code):
    (line,) = answers.thread(ground(), seams_m=[1], stitches=[code]).thread.seams
    assert (line.iso, line.stitch) == (code, TYPES[code])


def test_a_stitch_is_of_no_class_of_the_standard():
    assert {s.iso[0] for s in tables.read_table(tables.Notions, [shipped_folder()]).stitches.values()} <= CLASSES
