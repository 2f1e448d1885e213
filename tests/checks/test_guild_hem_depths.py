"""Hem depths (mm) in the table of a national sewing guild: blouse 6.35 to 19.05, coat or jacket 38.1 to 50.8, dress 38.1 to
50.8, women's trousers 15.88 to 31.75, shirt 9.53 to 15.88."""

from __future__ import annotations

import pytest

from advisor import advise

PRINTED = {
    ("cotton lawn, 90 gsm", "blouse"): (6.35, 19.05),
    ("wool flannel, 300 gsm", "tailored jacket"): (38.1, 50.8),
    ("cotton poplin, 150 gsm", "dress"): (38.1, 50.8),
    ("wool flannel, 280 gsm", "tailored trousers"): (15.88, 31.75),
    ("cotton poplin, 125 gsm", "shirt"): (9.53, 15.88),
}


@pytest.mark.parametrize("case", PRINTED, ids=" / ".join)
def test_the_depth_is_that_of_the_table(knowledge, case):
    low, high = PRINTED[case]
    depth = next(h.depth_mm for h in advise.sew(case[0], [case[1]], knowledge=knowledge).hems if h.feature)
    assert depth.low == pytest.approx(low, abs=1)
    assert depth.high == pytest.approx(high, abs=1)
