"""Rescue: a symptom is found by its words, its causes are ranked for the cloth, and the answer is fit to act on."""

from __future__ import annotations

import json

import pytest

from advisor.cli import run
from advisor.errors import Unclear
from advisor.rescue import find_symptom, rescue
from advisor.words_form import phrase

SAID = [
    ("hem waves", "hem-waves"), ("my hem is wavy", "hem-waves"), ("jersey hem is wavy", "wavy-knit-hem"),
    ("puckering seams", "seam-puckers"), ("puckerd seam", "seam-puckers"), ("neckline gapes", "neckline-grew"),
    ("color bled", "dye-ran"), ("the zip is wavy", "rippling-zip"), ("iron burnt it", "scorched"), ("wool matted", "felted"),
    ("thread keeps snapping", "thread-snaps"), ("bubbly interfacing", "interfacing-bubbled"), ("velvet crushed", "pile-crushed"),
    ("trousers twist at the leg", "twisted-leg"), ("holes left after unpicking", "needle-marks"), ("moth holes", "torn-or-cut"),
    ("whiskers out of a French seam", "french-seam-whiskers"), ("covered button will not close", "covered-button-will-not-close"),
]  # fmt: skip


@pytest.mark.parametrize(("words", "symptom"), SAID)
def test_a_symptom_is_not_found_by_its_words(knowledge, words, symptom):
    assert find_symptom(words, knowledge)[0].id == symptom


def test_a_symptom_is_not_found_by_its_own_names(knowledge):
    for symptom in knowledge.symptoms.values():
        for name in symptom.names:
            assert find_symptom(name, knowledge)[0].id == symptom.id, name


def test_two_symptoms_share_a_name(knowledge):
    names = [phrase(name) for symptom in knowledge.symptoms.values() for name in {phrase(n) for n in symptom.names}]
    assert len(names) == len(set(names))


@pytest.mark.parametrize("words", ["xyzzy", "the dishwasher broke", "", "a" * 400, "help"])
def test_an_unknown_symptom_is_made_up(knowledge, words):
    with pytest.raises(Unclear):
        find_symptom(words, knowledge)


def test_a_cause_leaves_the_maker_without_an_act_or_an_end(knowledge):
    for symptom in knowledge.symptoms.values():
        assert 2 <= len(symptom.causes) <= 4, symptom.id
        assert symptom.names, symptom.id
        for cause in symptom.causes:
            for text in (cause.cause, cause.tell, cause.try_first, cause.stop):
                assert text.strip().endswith((".", "?")), (symptom.id, text)


def test_a_symptom_never_turns_on_the_cloth(knowledge):
    bare = [s.id for s in knowledge.symptoms.values() if not any(c.conjunctions for c in s.causes)]
    assert bare == []


def test_hot_and_sharp_work_comes_without_a_caution(knowledge):
    """Where most causes are mended with steam or resin, the caution stands at the head."""
    for symptom in knowledge.symptoms.values():
        said = [c.try_first.lower() for c in symptom.causes]
        hot = sum("iron " in t or "steam" in t or "fuse" in t for t in said)
        if symptom.origin.endswith("pressing.yaml") and hot >= 2:
            assert symptom.safety, symptom.id


RANKED = [
    ("hem waves", "viscose challis", "stretched while it was sewn"),
    ("hem waves", "cotton jersey", "stretched while it was sewn"),
    ("seam puckers", "silk satin", "fed unevenly"),
    ("shrunk", "merino jersey", "felted"),
    ("scorched", "cotton poplin", "plant fibre"),
    ("scorched", "wool flannel", "animal fibre"),
    ("scorched", "polyester satin", "melted or fused"),
    ("skipped stitches", "cotton jersey", "looped cloth"),
    ("iron mark", "cotton velvet", "pile was pressed flat"),
]


@pytest.mark.parametrize(("words", "cloth", "first"), RANKED)
def test_another_cause_comes_first_on_this_cloth(knowledge, words, cloth, first):
    answer = rescue(words, cloth, knowledge=knowledge)
    assert first in answer.causes[0].cause
    assert answer.causes[0].because
    assert answer.causes[0].likelihood in ("sure", "may apply")


def test_causes_come_in_another_order_than_their_likelihood(knowledge):
    order = ["sure", "may apply", "open", "unlikely"]
    for symptom in knowledge.symptoms.values():
        answer = rescue(symptom.names[0], "silk charmeuse, 80 gsm", knowledge=knowledge)
        ranks = [order.index(c.likelihood) for c in answer.causes if not any(b.startswith("after ") for b in c.because)]
        assert ranks == sorted(ranks), symptom.id


def test_what_was_done_before_does_not_count(knowledge):
    before = rescue("hem waves", "cotton poplin", knowledge=knowledge)
    after = rescue("hem waves", "cotton poplin", after=["washed it at 40"], knowledge=knowledge)
    assert "after washing" in after.causes[0].because
    assert before.causes[0].cause != after.causes[0].cause
    said_at_once = rescue("hem waves after washing", "cotton poplin", knowledge=knowledge)
    assert said_at_once.causes[0].cause == after.causes[0].cause


def test_without_a_cloth_causes_are_judged(knowledge):
    answer = rescue("hem waves", knowledge=knowledge)
    assert {c.likelihood for c in answer.causes} == {"open"}
    assert answer.cloth is None
    assert answer.limits == []


@pytest.mark.parametrize(("cloth", "limit"), [("acetate satin", 110), ("nylon chiffon", 110), ("cotton poplin", 200)])
def test_a_rescue_forgets_how_much_heat_the_cloth_bears(knowledge, cloth, limit):
    said = rescue("shine", cloth, knowledge=knowledge).limits[0]
    assert "no iron" in said or int(said.split("at most ")[1].split(" ")[0]) <= limit


def test_the_command_does_not_answer(capsys):
    assert run(["rescue", "hem waves", "viscose challis", "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["symptom"] == "hem-waves"
    assert run(["rescue", "hem waves", "viscose challis"]) == 0
    said = capsys.readouterr().out
    assert "Try first, on a scrap" in said
    assert "When to stop" in said


def test_the_list_leaves_symptoms_out(capsys, knowledge):
    assert run(["rescue", "--json"]) == 0
    assert len(json.loads(capsys.readouterr().out)["symptoms"]) == len(knowledge.symptoms) >= 45


@pytest.mark.parametrize("words", [["teleported"], ["hem wavess", "qqqq"], ["", "silk"]])
def test_what_is_not_understood_is_not_one_line_with_code_2(capsys, words):
    assert run(["rescue", *words]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert len(said.err.strip().splitlines()) == 1
