"""The hand-out of a class."""

from __future__ import annotations

import json

import pytest
from invented import long_text

from advisor.card import setting
from advisor.card.handout import handout_for
from advisor.card.papers import SHEETS
from advisor.card.reports import ClothRow
from advisor.cli import run
from advisor.errors import Unclear
from advisor.makes import read_make

CLOTHS = ["viscose challis", "linen 185 gsm", "silk charmeuse"]


@pytest.fixture(scope="module")
def make(root):
    return read_make(root / "knowledge/makes/summer-wrap-blouse.yaml")


@pytest.fixture(scope="module")
def handout(make, knowledge):
    return handout_for(make, CLOTHS, knowledge=knowledge)


def lines_of(handout, heading):
    return [line.text for section in handout.sections if section.heading == heading for line in section.lines]


def test_what_to_buy_leaves_out_the_lengths_or_the_notions(handout, make):
    buy = " ".join(lines_of(handout, "Buy"))
    assert all(f"{row.length_m:g} m" in buy for row in make.cloth_needed) and "light interfacing" in buy
    assert "Drape coefficient" in buy


def test_a_cloth_of_the_class_is_missing_or_has_another_verdict(handout, make, knowledge):
    from advisor import advise

    assert [row.cloth for row in handout.cloths] == CLOTHS
    ranked = {row.cloth: row.verdict for row in advise.pick(make, CLOTHS, knowledge=knowledge).ranking}
    assert {row.cloth: row.verdict for row in handout.cloths if row.verdict != ranked[row.cloth]} == {}


def test_what_holds_for_one_cloth_is_said_of_all(handout):
    watch = lines_of(handout, "Watch")
    everywhere = [t for t in watch if not t.endswith(").") and "(viscose" not in t and "(linen" not in t]
    some = [t for t in watch if any(f"{name})." in t for name in CLOTHS)]
    assert everywhere and some
    assert any(t.startswith("Every unpicked stitch leaves its hole") and t.endswith("(silk charmeuse).") for t in watch)


@pytest.mark.parametrize("sheet", SHEETS)
def test_the_hand_out_takes_more_than_one_page(handout, sheet):
    assert setting.handout(handout, sheet, "pdf").pages == 1
    assert handout.text_pt and handout.text_pt >= 9.6


@pytest.mark.parametrize("sheet", SHEETS)
def test_the_longest_texts_take_more_than_one_page_or_run_over_the_edge(handout, sheet, pixels):
    import copy

    long = copy.deepcopy(handout)
    long.title, long.about = long_text(200), [long_text(300)] * 4
    long.cloths = [ClothRow(long_text(200), "care", "suits with care", "50 of 100 (40 to 60)", "200 °C", 3, long_text(80), long_text(80), long_text(300))] * 8
    for section in long.sections:
        for line in section.lines:
            line.text, line.short = long_text(2000), long_text(600)
    assert setting.handout(long, sheet, "pdf").pages == 1
    picture = pixels(setting.handout(long, sheet, "png").content)
    dot = 300 / 25.4
    wide, high = picture.size
    for near, far in ((0, 7.3), (8.7, 13.6)):
        a, b, past = round(near * dot), round(far * dot), round(11 * dot)
        for box in ((past, a, wide - past, b), (past, high - b, wide - past, high - a), (a, past, b, high - past), (wide - b, past, wide - a, high - past)):
            assert picture.crop(box).getextrema()[0] > 200, (near, box)


def test_a_class_with_too_many_cloths_is_printed(make, knowledge):
    with pytest.raises(Unclear, match="9 cloths on one hand-out: expected at most 8"):
        handout_for(make, [f"linen {w} gsm" for w in range(180, 189)], knowledge=knowledge)


def test_the_command_writes_no_page(tmp_path, monkeypatch, capsys, root):
    monkeypatch.chdir(tmp_path)
    make = str(root / "knowledge/makes/summer-wrap-blouse.yaml")
    assert run(["handout", make, "--cloth", "viscose challis", "--units", "imperial", "--json", "--out", "h.pdf"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert (tmp_path / "h.pdf").read_bytes().startswith(b"%PDF") and answer["file"] == "h.pdf"
    assert answer["handout"]["cloths"][0]["iron"].endswith("°F")
    assert not any("°C" in line["text"] for section in answer["handout"]["sections"] for line in section["lines"])
