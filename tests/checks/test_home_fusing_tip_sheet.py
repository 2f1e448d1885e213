"""Fusing at home (hobby tip sheet, common practice): wool setting, damp cloth, 10 to 15 s a place, pressed down and not slid, cooled before
it is handled. Industry: 120 to 180 °C, 10 to 18 s (interlining teaching slides); 165 to 170 °C, 2 to 20 s (merchandising page); resins
melt at 125, 135, 155 to 165 °C (interlining page). The leaflet of the interfacing comes first."""

from __future__ import annotations

from advisor import press

RESINS_C = (120, 180)


def test_fusing_is_told_otherwise(knowledge):
    found = press("cotton poplin", ["fusible interfacing"], knowledge=knowledge).findings
    (fuse,) = [f for f in found if "pressing down" in f.say]
    assert "10 to 15 seconds" in fuse.do and "leaflet" in fuse.do and "damp cloth" in fuse.do
    assert "wool setting" in fuse.do
    assert RESINS_C[0] <= press("wool flannel", knowledge=knowledge).iron.max_c <= RESINS_C[1]
