"""Apparel: Design, Textiles and Construction (textbook, 2012), p. 451: enclosed seams trimmed to 3.2 to 6.4 mm; p. 454: interfacing must wash like the garment and
woven interfacing is cut on the grain of the facing. Pattern drafting page (common practice): 12.7 mm in industry, 6.35 mm for enclosed seams."""

from __future__ import annotations

from advisor import advise


def test_an_enclosed_first_row_is_trimmed_wider_than_the_book(knowledge):
    found = advise.sew("cotton lawn", ["French seam"], knowledge=knowledge)
    assert all(s.trim_mm <= 6.4 for s in found.seams if s.trim_mm)


def test_an_industrial_allowance_is_refused(knowledge):
    for allowance in (6.35, 12.7, 15.88):
        assert advise.sew("cotton poplin", allowance_mm=allowance, knowledge=knowledge).seams


def test_interfacing_is_said_to_wash_as_it_likes(knowledge):
    found = advise.prewash("cotton poplin", care="40 wash", layers={"interfacing": "hair canvas"}, knowledge=knowledge)
    assert [c for c in found.conflicts if c.kind == "wash" and "interfacing" in c.between]
