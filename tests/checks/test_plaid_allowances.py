"""Matching: plaids guideline of a sewing education association (at least one repeat) and a page's worked allowances.

The page (common practice): repeat x pieces stacked lengthwise, pieces side by side need none. A handbook's 25 % and a poll's
half to one yard are other rules of thumb, for large checks.
"""

from __future__ import annotations

import pytest

from advisor.need import buying
from advisor.need.ground import ground


@pytest.mark.parametrize(("repeat_in", "pieces", "extra_in"), [(1.25, 2, 2.5), (4.25, 2, 8.5), (4, 4, 16)])
def test_the_extra_for_matching_differs(repeat_in, pieces, extra_in):
    plain = buying.width(ground(), length_m=2, from_cm=140).width.needed_m
    got = buying.width(ground(), length_m=2, from_cm=140, repeat_cm=repeat_in * 2.54, pieces=pieces).width.needed_m
    assert (got.expected - plain.expected) * 100 == pytest.approx(extra_in * 2.54, abs=0.06)
    assert (got.low - plain.low) * 100 == pytest.approx(repeat_in * 2.54, abs=0.06)
