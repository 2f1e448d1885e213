"""French seam widths as a sewing tutorial prints them, by arithmetic: in 5/8 in (15.88 mm) 3/8 in, trimmed to 1/8 in, then
1/4 in; in 1/2 in (12.7 mm) 1/4 in, trimmed to 1/8 in, then 1/4 in. Some of each first pass is lost in the fold, which the
tutorial does not count."""

from __future__ import annotations

import pytest

from advisor import advise

PRINTED = {15.88: (9.53, 3.18, 6.35), 12.7: (6.35, 3.18, 6.35)}
FOLD_MM = 1.5


@pytest.mark.parametrize("allowance", PRINTED)
def test_the_passes_are_those_printed_but_for_the_fold(knowledge, allowance):
    first, trim, second = PRINTED[allowance]
    seam = advise.sew("cotton poplin, 125 gsm", ["French seam"], allowance_mm=allowance, knowledge=knowledge).seams[0]
    assert seam.first_mm == pytest.approx(first, abs=FOLD_MM)
    assert seam.trim_mm == pytest.approx(trim, abs=0.5)
    assert seam.second_mm == pytest.approx(second, abs=0.5)
