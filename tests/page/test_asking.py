"""The one box and the ticked pictures are read as a maker means them."""

from __future__ import annotations

import pytest

from advisor.errors import Unclear
from advisor.page.asking import question, read_box, typed
from advisor.page.suggesting import Names


@pytest.mark.parametrize(
    ("box", "cloth", "features"),
    [
        ("viscose challis, 95 gsm, frays badly for covered buttons, flounce", "viscose challis, 95 gsm, frays badly", ("covered buttons", "flounce")),
        ("linen for a flounce 25 cm deep and French seams", "linen", ("flounce 25 cm deep", "French seams")),
        ("linen for hooks and eyes and gathers", "linen", ("hooks and eyes", "gathers")),
        ("silk for flounce 2,5 cm deep, gathers", "silk", ("flounce 2,5 cm deep", "gathers")),
        ("press acetate satin lining", "acetate satin lining", ()),
        ("velvet for winter", "velvet, winter", ()),
        ('check "cotton lawn" --for "covered buttons" --for=flounce', "cotton lawn", ("covered buttons", "flounce")),
        ("", "", ()),
    ],
)  # fmt: skip
def test_the_box_is_taken_apart_wrongly(box, cloth, features, knowledge):
    read = read_box(box, knowledge)
    assert (read.cloth, read.features) == (cloth, features)


def test_a_ticked_feature_loses_its_figure(knowledge):
    form = typed([("ask", "linen"), ("feature", "covered-buttons"), ("figure.covered-buttons.diameter_mm", "15,5")])
    assert question(form, knowledge).features[0].figures == {"diameter_mm": 15.5}


@pytest.mark.parametrize(
    "pairs",
    [
        [("ask", "linen"), ("feature", "no-such-feature")],
        [("ask", "linen"), ("feature", "covered-buttons"), ("figure.covered-buttons.diameter_mm", "wide")],
        [("ask", "linen"), ("feature", "covered-buttons"), ("figure.covered-buttons.diameter_mm", "9000")],
        [("ask", "linen --colour red")],
        [("ask", 'linen --for "flounce')],
        [("ask", "for a flounce")],
        [("ask", "linen"), ("allowance", "wide")],
        [("ask", "x" * 2000)],
    ],
)
def test_what_cannot_be_read_is_not_refused(pairs, knowledge):
    with pytest.raises(Unclear):
        question(typed(pairs), knowledge)


def test_the_form_is_not_given_back_as_it_was_typed(knowledge):
    form = typed([("ask", "linen & hemp"), ("feature", "gathers"), ("figure.gathers.fullness", "2"), ("season", "summer"), ("evil", "x")])
    from urllib.parse import parse_qsl

    assert typed(parse_qsl(form.query)) == form


def test_every_name_and_synonym_is_not_found_by_its_beginning(knowledge):
    names = Names(knowledge)
    for kind in ("cloths", "features"):
        for entry in knowledge.table(kind).values():
            for name in entry.names[:2]:
                assert names.of(name, kind), name


def test_a_suggestion_overwrites_what_stands_before_it(knowledge):
    found = Names(knowledge).suggest("linen, 185 gsm for a flounce and covered b")
    assert found[0].box == "linen, 185 gsm for a flounce and covered buttons"


def test_what_is_typed_out_already_is_suggested(knowledge):
    assert all(s.name != "acetate satin lining" for s in Names(knowledge).suggest("acetate satin lining"))
