"""A regional newspaper's advice on iron symbols (2018): polyester at one dot, at most 110 °C; GINETEX lists put it at two. Sturdy
polyester is told at two dots through a cloth, thin or pleated polyester at one."""

from __future__ import annotations

import pytest

from advisor import press


@pytest.mark.parametrize(("cloth", "limit"), [("polyester gabardine, 220 gsm", 150), ("polyester chiffon", 110), ("polyester satin lining, 60 gsm", 110)])
def test_polyester_is_pressed_hotter_than_the_list_it_follows(knowledge, cloth, limit):
    answer = press(cloth, knowledge=knowledge)
    assert answer.iron.max_c <= limit
    assert answer.press_cloth
