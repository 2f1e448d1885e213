"""Sewing Threads, lesson of an e-course (Indian Council of Agricultural Research), general guidelines: light cloth Tex 30 to 40,
heavy cloth Tex 60 for seams and 100 where loaded. Ticket = 3000 / Tex: Tex 40 is ticket 75, Tex 30 is 100, Tex 25 is 120 (garment
trade explainer, how to convert)."""

from __future__ import annotations

from advisor import advise
from advisor.lists import read_list
from advisor.sewing import Sewing, _thread


def test_shirt_weight_and_heavy_cloth_get_the_printed_thread(knowledge):
    light = advise.sew("cotton poplin, 125 gsm", knowledge=knowledge).thread.tex
    heavy = advise.sew("cotton denim, 400 gsm", knowledge=knowledge).thread.tex
    assert light.low <= 30
    assert light.high == 40
    assert (heavy.low, heavy.high) == (60, 100)


def test_the_ticket_is_the_printed_one(knowledge):
    table = read_list("sewing", Sewing, knowledge.folders)
    for tex, ticket in ((40, 75), (30, 100), (25, 120)):
        found = _thread({"thread": "any", "tex_low": tex, "tex_high": tex}, table)
        assert found.ticket.low == found.ticket.high == ticket
