"""Drape coefficient: (shadow - disc) / (cloth - disc).

Mass of the shadowed part of the paper ring over the whole ring: GATE textile engineering examination 2022, question 22, with
solution. Formula by areas: Fibre stiffness, laboratory notes. Sizes 30 cm on 18 cm: Testing of drape coefficient of fabric
(article); their areas by own arithmetic. Least 0 and greatest 100 %: BS 5058:1973, foreword.
"""

from __future__ import annotations

import math

import pytest

from advisor import hometests as h

DISC, CLOTH = 254.47, 706.86  # cm², circles of 18 and 30 cm


def test_the_examination_paper_is_answered_wrongly():
    assert h.drape_of_masses(2.1, 3.0) == pytest.approx(70, abs=1.7)  # 2.1 ± 0.05 g


def test_areas_and_widths_disagree():
    assert math.pi * 9**2 == pytest.approx(DISC, abs=0.01)
    assert math.pi * 15**2 == pytest.approx(CLOTH, abs=0.01)
    ring = CLOTH - DISC
    assert ring == pytest.approx(452.39, abs=0.01)
    shadow_cm = 24.2
    by_area = h.drape_of_areas(math.pi * (shadow_cm / 2) ** 2, DISC, CLOTH)
    assert h.drape_of_widths(shadow_cm, 18, 30) == pytest.approx(by_area, abs=0.01)


@pytest.mark.parametrize(("shadow_cm", "coefficient"), [(18, 0), (30, 100)])
def test_the_ends_of_the_scale_are_not_0_and_100(shadow_cm, coefficient):
    assert h.drape_of_widths(shadow_cm, 18, 30) == coefficient


def test_lobes_are_averaged_by_width_instead_of_area(knowledge):
    """Half the shadow 20 cm, half 28 cm wide: the area is that of their root mean square, not of 24 cm."""
    answer = h.measure(knowledge.tests["drape-shadow"], knowledge, {"disc_cm": [18], "cloth_cm": [30], "shadow_cm": [20, 28]})
    assert answer.value == pytest.approx(100 * ((400 + 784) / 2 - 324) / (900 - 324), abs=0.6)
