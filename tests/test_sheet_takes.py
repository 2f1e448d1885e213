"""What a sheet forbids is not advised on it: no iron, no steam, no water. advisor.sheets, `takes` in the rules."""

from __future__ import annotations

import pytest

from advisor import press, prewash

STEAMY = ("steam", "damp", "wet")
NO_IRON = ["PUL", "faux fur", "leather", "oilcloth", "laminated cotton", "sequinned mesh", "polypropylene", "waxed cotton", "fleece"]
NO_STEAM = ["acetate lining", "silk lamé", "acrylic knit", "nylon ripstop, coated", "silk dupion", "mesh with plastic sequins"]
NO_WATER = ["silk velvet", "acetate lining", "wool crepe", "cashmere coating", "silk lamé", "leather", "wool flannel", "oilcloth", "tweed"]


@pytest.mark.parametrize("cloth", NO_IRON)
def test_a_cloth_that_bears_no_iron_is_advised_on_ironing(knowledge, cloth):
    answer = press(cloth, knowledge=knowledge)
    assert answer.iron.level == 0
    assert not [text for text in answer.how if "iron" in text or "press" in text.replace("finger-press", "") or "clapper" in text]
    assert "put the iron or its steam on it" in answer.never
    assert not [f for f in answer.findings if f.id == "press-test-on-a-scrap"]


@pytest.mark.parametrize("cloth", [*NO_STEAM, *NO_IRON])
def test_a_cloth_that_bears_no_steam_is_advised_on_steam(knowledge, cloth):
    answer = press(cloth, knowledge=knowledge)
    assert answer.steam == "no"
    assert not [text for text in answer.how if any(word in text for word in STEAMY)], answer.how


@pytest.mark.parametrize("cloth", NO_WATER)
def test_a_cloth_that_stays_out_of_water_is_advised_on_washing(knowledge, cloth):
    answer = prewash(cloth, knowledge=knowledge)
    assert not knowledge.methods[answer.method].water
    assert answer.max_c == 0 and answer.times == 1
    said = [*answer.before, *answer.after]
    assert not [text for text in said if any(word in text for word in ("wash ", "load", "mesh bag", "soak", "wrung"))], said


@pytest.mark.parametrize("cloth", ["leather", "oilcloth", "laminated cotton", "waxed cotton", "sequinned mesh"])
def test_what_is_left_as_it_is_is_called_needed(knowledge, cloth):
    answer = prewash(cloth, knowledge=knowledge)
    assert not answer.needed


@pytest.mark.parametrize(("cloth", "by"), [("laminated cotton", "laminated cotton"), ("waxed cotton", "waxed cotton"), ("fleece", "fleece"), ("cotton poplin", "cotton")])
def test_a_fibre_is_blamed_for_what_its_coating_cannot_bear(knowledge, cloth, by):
    assert press(cloth, knowledge=knowledge).iron.decided_by == by


@pytest.mark.parametrize(("cloth", "named"), [("wool crepe", "100% wool crepe"), ("corduroy", "corduroy, 100% cotton")])
def test_what_the_iron_could_be_without_a_doubtful_fibre_is_not_what_it_is_without(knowledge, cloth, named):
    doubtful, plain = press(cloth, knowledge=knowledge).iron, press(named, knowledge=knowledge).iron
    assert doubtful.max_c < doubtful.otherwise_c == plain.max_c
    assert plain.otherwise_c == 0


def test_shrunk_wool_is_sent_to_the_machine(knowledge):
    answer = prewash("London shrunk wool", knowledge=knowledge)
    assert not answer.needed and answer.method == "steam"


def test_a_prohibition_is_lost_with_the_advice_beside_it(knowledge):
    assert "press on the pile" in press("silk velvet", knowledge=knowledge).never
    assert any("rouleau" in text for text in press("acetate lining", ["rouleau loops"], knowledge=knowledge).never) or any(
        "rouleau" in f.say.lower() for f in press("acetate lining", ["rouleau loops"], knowledge=knowledge).findings
    )
