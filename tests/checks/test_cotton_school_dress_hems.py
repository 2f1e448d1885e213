"""It's Fun to Sew: A Cotton School Dress (4-H extension bulletin), suggested widths: circle skirt 6.35 mm or rolled; heavy skirt
50.8 mm or less; narrow hem two turns of 6.35 mm, 12.7 mm in all."""

from __future__ import annotations

from advisor import advise


def depth(cloth, feature, knowledge):
    return next(h.depth_mm for h in advise.sew(cloth, [feature], knowledge=knowledge).hems if h.feature)


def test_a_circle_is_not_hemmed_deeper(knowledge):
    assert depth("cotton poplin, 125 gsm", "circle skirt", knowledge).high <= 6.4


def test_a_heavy_skirt_is_not_hemmed_deeper(knowledge):
    assert depth("wool melton, 500 gsm", "pencil skirt", knowledge).high <= 50.8


def test_a_narrow_hem_takes_two_turns_of_a_quarter_inch(knowledge):
    narrow = depth("cotton poplin, 125 gsm", "narrow hem", knowledge)
    assert abs(narrow.low - 6.35) < 0.5
    assert abs(narrow.high - 12.7) < 0.5
