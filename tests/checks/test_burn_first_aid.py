"""Burn first aid: Victorian Adult Burns Service and ANZBA, 20 minutes of cool running water; a British campaign the same; one NHS trust 10
to 30 minutes, no ice, cream or butter; a resuscitation summary at least 10; an older NHS group at most 10 for babies (chilling). The
advisor says 20 minutes, names a doctor for a child, and forbids ice and butter."""

from __future__ import annotations

from advisor import press


def test_the_advice_leaves_every_source(knowledge):
    (burn,) = [f for f in press("cotton poplin", knowledge=knowledge).findings if "burns skin" in f.say]
    assert "20 minutes" in burn.do
    assert 10 <= 20 <= 30
    assert "no ice or butter" in burn.do
    assert "child" in burn.do and "doctor" in burn.do
