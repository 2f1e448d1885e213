"""French seams as printed: Conover, A Complete Course in Dressmaking (1921), p. 98: 1/8 in, then 1/4 in (9.53 mm in all); an extension sheet (Utah State University): 3/8
in, trimmed to 1/8, then 3/8 (19.05 mm, more than the usual allowance); a self-sufficiency handbook: half the allowance, trimmed to 5 mm, then
on the seam line; at most 6 mm finished on sheers (tutorial). The two passes and the fold are made to fill the pattern's allowance, not 19 mm."""

from __future__ import annotations

import pytest

from advisor import advise


@pytest.mark.parametrize("allowance", [10, 12.7, 15, 15.875])
def test_the_passes_do_not_come_to_the_allowance(knowledge, allowance):
    (seam, *_) = [s for s in advise.sew("silk chiffon", ["French seam"], allowance_mm=allowance, knowledge=knowledge).seams if s.first_mm]
    assert seam.first_mm + seam.second_mm + seam.turn_mm == pytest.approx(allowance, abs=0.06)
    assert seam.trim_mm <= 5
    assert seam.second_mm <= 6.35
