"""What stands on a card: the reports' own figures and words, and nothing besides."""

from __future__ import annotations

import dataclasses

import pytest

from advisor import advise
from advisor.card.content import card_for
from advisor.card.wording import first_sentence, sentence
from advisor.errors import Unclear
from advisor.makes import parse_make
from advisor.stash.pieces import Piece, Reserved

PIECE = Piece(
    name="Blue birds", description="viscose challis, 95 gsm, frays badly", width_cm=140, lengths_m=(2.4, 0.8), bought="2024-05",
    kept="chest", tests="drape 34 %", notes=("fades at 30 cm from the fold",), reserved=(Reserved("Sunday blouse", 1.9),),
)  # fmt: skip


def lines_of(card, heading):
    return [line.text for section in card.sections if section.heading == heading for line in section.lines]


def figure(card, label):
    return next(f for f in card.figures if f.label == label)


@pytest.mark.parametrize("cloth", ["silk charmeuse", "cotton poplin, 120 gsm", "wool melton", "acetate lining", "pul", "ponte"])
def test_a_figure_differs_from_its_report(cloth, knowledge):
    card = card_for(cloth, knowledge=knowledge)
    iron, wash, sew = advise.press(cloth, knowledge=knowledge).iron, advise.prewash(cloth, knowledge=knowledge), advise.sew(cloth, knowledge=knowledge)
    assert figure(card, "iron").dots == iron.level
    assert figure(card, "iron").value == (f"{iron.max_c} °C" if iron.level else "none")
    assert figure(card, "wash").value == (f"{wash.max_c} °C" if wash.max_c else "none")
    assert figure(card, "needle").value == f"{sew.needle.nm.low:g}–{sew.needle.nm.high:g}"
    assert f"{sew.stitch.length_mm.low:g}" in figure(card, "stitch").value


def test_imperial_figures_are_metric(knowledge):
    card = card_for(PIECE, units="imperial", knowledge=knowledge)
    assert figure(card, "iron").value.endswith("°F") and figure(card, "stitch").value.endswith("/ in")
    assert not any("°C" in text or " cm" in text for heading in ("Press", "Before cutting", "Sew") for text in lines_of(card, heading))
    assert lines_of(card, "Notes") == ["fades at 30 cm from the fold"], "the maker's own words are changed"
    assert card.facts[0].startswith("3.49 yd")


def test_every_stop_danger_and_caution_is_not_on_the_card(knowledge):
    features = ["flounce", "covered buttons"]
    card = card_for("acetate satin lining", features, knowledge=knowledge)
    said = " ".join(lines_of(card, "Watch"))
    for finding in advise.check("acetate satin lining", features, knowledge=knowledge).findings:
        if finding.kind in ("stop", "safety", "caution"):
            assert finding.say in said
    assert len(lines_of(card, "Watch")) == len(set(lines_of(card, "Watch")))


def test_what_may_apply_is_said_as_sure(knowledge):
    card = card_for("silk charmeuse", ["flounce"], knowledge=knowledge)
    report = advise.check("silk charmeuse", ["flounce"], knowledge=knowledge)
    unsure = [f.say for f in report.findings if f.certainty != "sure" and f.kind == "caution"]
    assert unsure
    for text in unsure:
        assert any(line.startswith(sentence(text)) and "(may apply)" in line for line in lines_of(card, "Watch"))


def test_a_piece_loses_what_is_known_of_it(knowledge):
    card = card_for(PIECE, knowledge=knowledge)
    assert card.title == "Blue birds" and "challis" in card.reads
    assert card.facts == ["3.20 m left in 2 lengths", "140 cm wide", "bought 2024-05", "kept in chest"]
    assert card.kept_for == ["Sunday blouse, 1.90 m"]
    assert any("drape" in line and "34" in line for line in lines_of(card, "Tests"))
    assert "___" in " ".join(lines_of(card, "Tests")), "there is no room to write the shrinkage in"


def test_a_washed_piece_is_washed_again(knowledge):
    washed = dataclasses.replace(PIECE, prewashed=True, shrank_along_pct=5.0, shrank_across_pct=3.0)
    card = card_for(washed, knowledge=knowledge)
    assert lines_of(card, "Before cutting") == ["Pre-washed: it shrank 5 % along and 3 % across."]
    assert "shrank" not in " ".join(lines_of(card, "Tests"))
    assert "Pre-washed." in lines_of(card_for(dataclasses.replace(PIECE, prewashed=True), knowledge=knowledge), "Before cutting")


def test_a_card_without_features_has_a_verdict(knowledge):
    assert card_for("silk charmeuse", knowledge=knowledge).verdict is None
    card = card_for("silk charmeuse", ["flounce"], knowledge=knowledge)
    assert card.verdict == advise.check("silk charmeuse", ["flounce"], knowledge=knowledge).verdict
    assert card.verdict_text.endswith("for flounce")


def test_a_make_is_left_out_of_the_verdict_or_of_the_care(knowledge):
    make = parse_make("make: Market skirt\nfeatures: [gathered skirt, in-seam pockets]\ncare: 60 machine wash\n")
    card = card_for("cotton poplin, 120 gsm", make=make, knowledge=knowledge)
    assert "Market skirt" in card.verdict_text and "weakest" in card.verdict_text
    wash = advise.prewash("cotton poplin, 120 gsm", make=make, knowledge=knowledge)
    assert figure(card, "wash").value == f"{wash.max_c} °C"


def test_a_given_weight_is_to_be_filled_in_again(knowledge):
    assert "Weight" in " ".join(lines_of(card_for("cotton poplin", knowledge=knowledge), "Tests"))
    assert "Weight" not in " ".join(lines_of(card_for("cotton poplin, 120 gsm", knowledge=knowledge), "Tests"))


def test_words_that_were_not_understood_are_lost(knowledge):
    assert card_for("cotton poplin, wibbly", knowledge=knowledge).not_understood == ["wibbly"]
    with pytest.raises(Unclear):
        card_for("zzzz", knowledge=knowledge)


def test_every_shipped_cloth_has_a_card_with_all_its_headings(knowledge, full):
    cloths = sorted(c.names[0] for c in knowledge.cloths.values() if c.kind == "cloth")
    for name in cloths if full else cloths[::60]:
        card = card_for(name, knowledge=knowledge)
        assert [s.heading for s in card.sections if s.lines] == [s.heading for s in card.sections]
        assert {"Before cutting", "Press", "Tests"} <= {s.heading for s in card.sections}, name
        for section in card.sections:
            for line in section.lines:
                assert line.text and line.short and "None" not in line.text and "  " not in line.text, (name, line.text)
                assert len(line.short) <= len(line.text) + 1, (name, line.short)


@pytest.mark.parametrize(("given", "want"), [("one. Two.", "One."), ("one", "One."), ("at 2.5 mm, twice", "At 2.5 mm, twice."), ("", "")])
def test_a_first_sentence_is_cut_in_a_figure_or_not_at_all(given, want):
    assert first_sentence(given) == want
