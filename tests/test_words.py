"""From a maker's words to a cloth: advisor.words and advisor.words_form."""

from __future__ import annotations

from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.errors import Unclear
from advisor.ranges import Range
from advisor.words import describe
from advisor.words_form import phrase, plain, singular, words_of


@pytest.mark.parametrize(
    "said", ["Cotton Poplin", "cotton-poplin", "COTTON POPLINS", "  cotton   poplin  ", "cótton poplin"]
)
def test_capitals_plurals_accents_and_hyphens_do_not_matter(knowledge, said):
    assert describe(said, knowledge).cloth == describe("cotton poplin", knowledge).cloth != ""


@pytest.mark.parametrize("word", ["canvas", "glass", "chintz", "bias", "jeans", "dress"])
def test_a_word_that_only_looks_plural_is_kept(word):
    assert singular(word) == word


@given(st.text(max_size=40))
def test_the_plain_form_of_a_phrase_is_its_own_plain_form(text):
    assert phrase(phrase(text)) == " ".join(singular(w) for w in words_of(phrase(text)))
    assert plain(plain(text)) == plain(text)


@pytest.mark.parametrize("said", ["poplin, cotton, 120gsm", "120 gsm cotton poplin", "cotton poplin of 120 gsm"])
def test_order_does_not_matter(knowledge, said):
    read = describe(said, knowledge)
    assert read.cloth == describe("cotton poplin", knowledge).cloth
    assert read.figures.stated["weight"] == Range(120, 120)


@pytest.mark.parametrize(("said", "shares"), [
    ("55% linen 45% viscose twill, 180 gsm", {"linen": 55, "viscose": 45}),
    ("cotton 60 %, linen 40 %", {"cotton": 60, "linen": 40}),
    ("60% cotton, linen", {"cotton": 60, "linen": 40}),
    ("cotton poplin, 3% elastane", {"cotton": 97, "elastane": 3}),
    ("3% elastane cotton poplin", {"cotton": 97, "elastane": 3}),
    ("denim 98% cotton 2% elastane", {"cotton": 98, "elastane": 2}),
    ("65/35 polyester cotton twill", {"polyester": 65, "cotton": 35}),
    ("viscose linen twill 55/45", {"viscose": 55, "linen": 45}),
    ("65/35 polycotton", {"polyester": 65, "cotton": 35}),
    ("wool flannel, 80% wool 20% polyamide", {"wool": 80, "polyamide": 20}),
])  # fmt: skip
def test_every_share_goes_to_its_own_fibre_and_none_is_lost(knowledge, said, shares):
    (mix,) = describe(said, knowledge).mixes
    assert {fibre: share.mid for fibre, share in mix.items()} == shares


def test_or_between_fibres_means_one_or_the_other(knowledge):
    assert describe("silk or polyester charmeuse", knowledge).mixes == [
        {"silk": Range(100, 100)},
        {"polyester": Range(100, 100)},
    ]


def test_fibres_without_shares_may_stand_in_any_proportion(knowledge):
    (mix,) = describe("cotton and acrylic mix", knowledge).mixes
    assert mix == {"cotton": Range(10, 90), "acrylic": Range(10, 90)}


@pytest.mark.parametrize("said", ["60% cotton 60% linen", "120% cotton"])
def test_shares_over_a_hundred_are_refused(knowledge, said):
    with pytest.raises(Unclear, match="100 %"):
        describe(said, knowledge)


@pytest.mark.parametrize("said", ["", "   ", "x" * 2001])
def test_nothing_and_too_much_are_refused(knowledge, said):
    with pytest.raises(Unclear):
        describe(said, knowledge)


def test_what_is_not_understood_at_all_is_refused_with_the_nearest_word(knowledge):
    with pytest.raises(Unclear) as caught:
        describe("qwertzuiop", knowledge)
    assert "qwertzuiop" in caught.value.given


def test_a_word_that_is_not_understood_is_reported_and_the_rest_read(knowledge):
    read = describe("cotton qwertzuiop", knowledge)
    assert read.not_understood == ["qwertzuiop"]
    assert read.mixes == [{"cotton": Range(100, 100)}]


def test_a_slip_of_spelling_in_a_long_word_is_mended_and_said(knowledge):
    read = describe("cottoon poplin", knowledge)
    assert read.cloth == describe("cotton poplin", knowledge).cloth
    assert any("cottoon" in note for note in read.notes)


def test_a_slip_too_doubtful_to_mend_is_reported_with_the_nearest_word(knowledge):
    read = describe("cottn poplin", knowledge)
    assert read.not_understood == ["cottn"]
    assert read.nearest == {"cottn": "cotton"}


def test_a_name_with_several_senses_says_which_was_taken_and_what_else_it_means(knowledge):
    read = describe("calico", knowledge)
    assert read.other_senses
    assert any("can also mean" in note for note in read.notes)


def test_a_fibre_beside_an_ambiguous_name_chooses_the_sense(knowledge):
    wool, viscose = describe("wool challis", knowledge).cloth, describe("viscose challis", knowledge).cloth
    assert wool != viscose
    assert "wool" in knowledge.cloths[wool].fibres[0]


@pytest.mark.parametrize("said", ["cotton, 9000 gsm", "cotton, 2 gsm", "cotton, drape 120%", "cotton, fray 7"])
def test_an_impossible_figure_is_refused(knowledge, said):
    with pytest.raises(Unclear):
        describe(said, knowledge)


def test_a_surprising_figure_is_used_and_pointed_out(knowledge):
    read = describe("cotton poplin, 900 gsm", knowledge)
    assert read.figures.stated["weight"] == Range(900, 900)
    assert any("usually" in note for note in read.notes)


def test_every_name_of_every_cloth_leads_to_a_cloth_of_that_name(knowledge):
    lost = []
    for cloth in knowledge.cloths.values():
        for name in cloth.names:
            if any(ch.isdigit() for ch in name):
                continue  # its figures are taken out as figures
            meant = {entry for kind, entry in knowledge.words[phrase(name)] if kind == "cloths"}
            try:
                read = describe(name, knowledge).cloth
            except Unclear as error:
                read = str(error)
            if cloth.id not in meant or read not in meant:
                lost.append(f"{name} ({cloth.id}) read as {read or 'no cloth'}")
    assert lost == []


@settings(max_examples=60, deadline=None)
@given(st.text(min_size=1, max_size=60))
def test_no_text_whatever_breaks_the_reader(knowledge, text):
    with suppress(Unclear):
        describe(text, knowledge)


@pytest.mark.parametrize(
    ("said", "cloth"),
    [
        ("satin silk chiffon", "silk chiffon"),
        ("brushed cotton in a houndstooth check", "brushed cotton"),
        ("seersucker gingham", "seersucker"),
        ("flannel, 450 g", "wool flannel"),
        ("flannel, 150 g", "brushed cotton"),
    ],
)
def test_of_several_cloths_named_the_wrong_one_is_taken(knowledge, said: str, cloth: str) -> None:
    read = describe(said, knowledge)
    assert read.cloth == describe(cloth, knowledge).cloth


@settings(max_examples=30, deadline=None)
@given(st.text(alphabet="qxz\n\t", min_size=4, max_size=20).filter(str.strip))
def test_what_is_refused_is_told_in_one_line(knowledge, text):
    with pytest.raises(Unclear) as caught:
        describe(text, knowledge)
    assert len(caught.value.line().splitlines()) == 1
