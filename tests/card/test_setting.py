"""Cards on paper: one page, nothing over the edge, whatever the texts."""

from __future__ import annotations

import io
import random
import sys

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from invented import longest

from advisor.card import setting
from advisor.card.content import card_for
from advisor.card.papers import CARDS, alone, on_sheet
from advisor.errors import Unclear

SAMPLE = 5
"""Cloths a size; `--full` sets them all."""


def rings(picture, paper):
    """The white strips that must stay white: outside of the stitched border, and between it and the text."""
    dot = 300 / 25.4
    wide, high = picture.size
    for near, far in ((0.0, paper.border_mm - 0.7), (paper.border_mm + 0.7, paper.inset_mm - 0.4)):
        a, b, past = round(near * dot), round(far * dot), round((paper.border_mm + 3) * dot)  # past the round corners
        yield (past, a, wide - past, b)
        yield (past, high - b, wide - past, high - a)
        yield (a, past, b, high - past)
        yield (wide - b, past, wide - a, high - past)


def ink_in_the_rings(picture, paper) -> list[tuple[int, ...]]:
    return [box for box in rings(picture, paper) if picture.crop(box).getextrema()[0] < 200]


@pytest.fixture(scope="module")
def some_cloths(knowledge, full):
    names = sorted(c.names[0] for c in knowledge.cloths.values() if c.kind == "cloth")
    return names if full else random.Random(8).sample(names, SAMPLE)


@pytest.mark.parametrize("size", CARDS)
def test_a_shipped_cloth_takes_more_than_one_page_or_more_room_than_there_is(size, some_cloths, knowledge):
    reports = [card_for(name, knowledge=knowledge) for name in some_cloths]
    printed = setting.cards(reports, size, alone(size), "pdf")
    assert printed.pages == len(reports)
    for report in reports:
        held = [line for section in report.sections for line in section.lines]
        assert len(report.left_out) < len(held), f"{report.title}: nothing is left on the card"
        kept = [line.text for line in held if line.weight == 0]
        assert not set(kept) & set(report.left_out), f"{report.title}: what may never be missed is missing"


@pytest.mark.parametrize("size", CARDS)
@pytest.mark.parametrize("solid", [False, True], ids=["words", "one long word"])
def test_the_longest_texts_run_over_the_edge_or_onto_a_second_page(size, solid, pixels):
    report = longest(solid)
    assert setting.cards([report], size, alone(size), "pdf").pages == 1
    picture = pixels(setting.cards([report], size, alone(size), "png").content)
    assert ink_in_the_rings(picture, CARDS[size]) == []
    assert report.left_out and report.text_pt == CARDS[size].sizes_pt[-1]


def test_the_rings_would_show_ink_that_is_there(pixels):
    from PIL import ImageDraw

    picture = pixels(setting.cards([longest()], "a6", alone("a6"), "png").content)
    middle = picture.size[1] // 2
    ImageDraw.Draw(picture).line((0, middle, 90, middle), fill=0, width=3)
    assert ink_in_the_rings(picture, CARDS["a6"])


@pytest.mark.parametrize("size", CARDS)
@pytest.mark.parametrize("cloth", ["viscose challis, 95 gsm, frays badly", "wool melton"])
def test_a_real_card_runs_over_the_edge(size, cloth, knowledge, pixels):
    report = card_for(cloth, ["flounce", "covered buttons"], knowledge=knowledge)
    picture = pixels(setting.cards([report], size, alone(size), "png").content)
    assert ink_in_the_rings(picture, CARDS[size]) == []
    assert picture.size == (round(CARDS[size].width_mm / 25.4 * 300), round(CARDS[size].height_mm / 25.4 * 300)) or abs(
        picture.size[0] - CARDS[size].width_mm / 25.4 * 300
    ) < 2


def test_a_short_card_is_not_set_in_the_size_liked_best():
    report = longest()
    report.sections = [type(report.sections[0])("Watch", [type(report.sections[0].lines[0])("One line.", "One line.", 0)])]
    setting.cards([report], "a6", alone("a6"), "pdf")
    assert report.text_pt == CARDS["a6"].sizes_pt[0] and not report.left_out and not report.shortened


def test_larger_paper_holds_fewer_lines(knowledge):
    counts = []
    for size in ("index", "a6", "a5", "letter"):
        report = card_for("silk charmeuse", ["flounce"], knowledge=knowledge)
        setting.cards([report], size, alone(size), "pdf")
        counts.append(len(report.left_out))
    assert counts == sorted(counts, reverse=True) and len(set(counts)) == 4


MARKUP = ['#panic("run")', "#{", "*bold _it $x^2$ <fit> @ref", "\\", "// gone", "/* gone", "[]](", '"', "`raw", "= Head", "~--...", "\u202eabc", "#import \"/etc/passwd\": *", "\x00\x01", "\udc80"]  # fmt: skip


@pytest.mark.parametrize("text", MARKUP)
def test_a_text_is_read_as_markup(text):
    report = longest()
    report.title = report.reads = report.verdict_text = text
    report.facts = report.kept_for = [text]
    for section in report.sections:
        section.heading = text
        section.lines = [type(section.lines[0])(text, text, 2)]
    assert setting.cards([report], "a6", alone("a6"), "pdf").pages == 1
    assert report.left_out == []


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.text(max_size=400), st.text(max_size=80))
def test_some_text_cannot_be_set(line, title):
    report = longest()
    report.title, report.reads = title, line
    report.sections = report.sections[:1]
    report.sections[0].lines = [type(report.sections[0].lines[0])(line, line, w) for w in range(4)]
    assert setting.cards([report], "index", alone("index"), "pdf").pages == 1


def test_a_meaning_hangs_on_a_colour(knowledge):
    from PIL import Image

    report = card_for("silk charmeuse", ["jeans"], knowledge=knowledge)
    content = setting.cards([report], "a6", alone("a6"), "png").content
    red, green, blue = Image.open(io.BytesIO(content)).convert("RGB").split()
    assert red.tobytes() == green.tobytes() == blue.tobytes()


def test_a_screen_reader_cannot_read_the_pdf(knowledge, monkeypatch):
    made = []
    compiler_of = setting._compiler
    monkeypatch.setattr(setting, "_compiler", lambda *given: made.append(compiler_of(*given)) or made[-1])
    setting.cards([card_for("silk charmeuse", ["flounce"], knowledge=knowledge)], "a6", alone("a6"), "pdf")
    assert made[0].compile(format="pdf", pdf_standards=["ua-1"]), "PDF/UA-1 refuses what it holds to be unreadable"


def test_two_prints_of_one_card_differ(knowledge):
    prints = [setting.cards([card_for("cotton poplin", knowledge=knowledge)], "a6", alone("a6"), "pdf").content for _ in range(2)]
    assert prints[0] == prints[1]


def test_a_sheet_has_the_wrong_number_of_pages_or_a_page_of_a_picture_is_lost(knowledge):
    reports = [card_for("cotton poplin", knowledge=knowledge) for _ in range(5)]
    assert setting.cards(reports, "a6", on_sheet("a6", "a4"), "pdf").pages == 2
    with pytest.raises(Unclear, match=r"2 pages as one \.png: expected a name ending in \.pdf"):
        setting.cards(reports, "a6", on_sheet("a6", "a4"), "png")


def test_a_missing_typst_ends_in_a_traceback(monkeypatch, knowledge):
    monkeypatch.setitem(sys.modules, "typst", None)
    with pytest.raises(Unclear, match=r"pip install 'fabric-advisor\[card\]'"):
        setting.cards([card_for("cotton poplin", knowledge=knowledge)], "a6", alone("a6"), "pdf")
