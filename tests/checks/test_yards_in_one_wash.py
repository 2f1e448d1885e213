"""Pre-washing long yardage: cut it into pieces of 5 to 6 yd, 4.57 to 5.49 m (answer page, common practice). Fusible interfacing: soaked 10 min
(help page, common practice) or 15 to 20 (newsletters); another camp says it needs none."""

from __future__ import annotations

import re

from advisor import prewash


def test_a_length_is_washed_whole_that_the_page_would_cut(knowledge):
    said = " ".join(prewash("linen, 6 m", knowledge=knowledge).before)
    metres = float(re.search(r"(?i)beyond (\d+(?:\.\d+)?) m", said)[1])
    assert 4.57 <= metres <= 5.49
