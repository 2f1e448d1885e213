"""Burn first aid: Victorian Adult Burns Service and ANZBA, 20 minutes of cool running water; a British campaign the same; one NHS trust 10
to 30 minutes, no ice, cream or butter; a resuscitation summary at least 10; an older NHS group at most 10 for babies (chilling). The
advisor says 20 minutes, names a doctor for a child, and forbids ice and butter."""

from __future__ import annotations

import re

from advisor import press


def test_the_advice_leaves_every_source(knowledge):
    (burn,) = [f for f in press("cotton poplin", knowledge=knowledge).findings if "burns skin" in f.say]
    (minutes,) = map(int, re.findall(r"(\d+) minutes", burn.do))
    assert minutes == 20  # both national bodies; inside 10 to 30, and no less than the summary's 10
    assert "no ice or butter" in burn.do
    assert "child" in burn.do and "doctor" in burn.do
