"""Grey scales of ISO 105-A02 and A03: grades 1 to 5 in whole and half steps, 5 no change or stain, 1 the most severe.

Steps: GB 251-1995, counterpart of ISO 105-A03, clause 2.1. Meaning of the ends: student text on the grey scales, p. 1. A limit in
use: US Commercial Item Description A-A-55095A, table I, colour fastness to laundering not less than grade 3.
"""

from __future__ import annotations

import pytest

from advisor import Unclear, prewash
from advisor.words import describe


def test_the_scale_runs_from_1_to_5(knowledge):
    assert knowledge.properties["bleed"].domain == (1, 5)


@pytest.mark.parametrize("grade", ["0", "6"])
def test_a_grade_off_the_scale_is_refused(knowledge, grade):
    with pytest.raises(Unclear):
        describe(f"cotton, colour fastness {grade}", knowledge)


@pytest.mark.parametrize(("said", "value"), [("1", (1, 1)), ("3-4", (3, 4)), ("4-5", (4, 5)), ("5", (5, 5))])
def test_whole_and_half_grades_are_read(knowledge, said, value):
    assert describe(f"cotton, colour fastness {said}", knowledge).figures.stated["bleed"] == value


def test_a_cloth_of_grade_5_is_never_told_to_bleed_and_one_of_grade_1_always_is(knowledge):
    worst = {f.id for f in prewash("cotton, measured colour fastness 1", knowledge=knowledge).findings}
    best = {f.id for f in prewash("cotton, measured colour fastness 5", knowledge=knowledge).findings}
    warned = worst - best
    assert any("bleed" in f or "lot" in f or "colour" in f for f in warned), warned


def test_undyed_loss_is_graded_worse_than_fast_dye(knowledge):
    bands = knowledge.properties["bleed"].bands
    ordered = sorted(bands.values())
    assert ordered[0].low == 1
    assert ordered[-1].high == 5
