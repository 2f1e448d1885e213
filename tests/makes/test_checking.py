"""A make file read over, all faults at once and each at its line: advisor.making.checking."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.makes import parse_make
from advisor.making.checking import check_file, check_text

TODAY = date(2026, 11, 25)
HEAD = "make: x\nfeatures: [flounce]\n"


def found(text, knowledge):
    return [(f.line, f.kind, f.field, f.nearest) for f in check_text(text, knowledge, today=TODAY).found]


FAULTS = [
    ("makes: x\nfeatures: [flounce]", 1, "makes", "make"),
    ("make: x\nfeatures:\n  - flounce: {depth_mm: 99999}", 3, "features[0]", ""),
    ("make: x\nfeatures:\n  - flounce:\n      depth_mm: 90\n      at: cuf", 5, "features[0]", "cuff"),
    ("make: x\nfeatures:\n  - flounce\n  - 12", 4, "features[1]", "flounce: {depth_mm: 120, at: cuff}"),
    ("make: x\nfeatures: []", 2, "features", ""),
    (HEAD + "season: sumer", 3, "season", "summer"),
    (HEAD + "hours: 9 hours", 3, "hours", "9"),
    (HEAD + "hours: -1", 3, "hours", ""),
    (HEAD + "envelope:\n  woven_or_knit: wovn", 4, "envelope.woven_or_knit", "woven"),
    (HEAD + "envelope: {stretch_across: 1350}", 3, "envelope.stretch_across", ""),
    (HEAD + "layers:\n  lining: xyzzy", 4, "layers.lining", ""),
    (HEAD + "cloth_needed:\n  - {width_cm: 140, length_m: 2}\n  - {width_cm: 60, length_m: 240}", 5, "cloth_needed[1].length_m", "2.4"),
    (HEAD + "cloth_needed:\n  - {width_cm: 140, length_m: 2}\n  - {width_cm: 140, length_m: 3}", 5, "cloth_needed[1]", ""),
    (HEAD + "cloth_needed:\n  - {width_cm: 36, length_m: 3, size: 12}", 4, "cloth_needed[0].size", '"12"'),
    (HEAD + "cloth_needed:\n  - {view: A, width_cm: 140, length_m: 2}\nview: B", 5, "view", "A"),
    (HEAD + "wanted_by: 2026-13-01", 3, "wanted_by", ""),
    (HEAD + "notions: thread", 3, "notions", ""),
    (HEAD + "part_features: {contrast: [collar]}", 3, "part_features.contrast", ""),
    (HEAD + "hours: 3\nhours: 4", 4, "", ""),
    ("make: x\nfeatures: [flounce\n", 3, "", ""),
    ("just words", 1, "", ""),
    ("", 1, "", ""),
]


@pytest.mark.parametrize(("text", "line", "field", "nearest"), FAULTS)
def test_a_fault_is_named_by_its_line_its_field_and_what_is_nearest(text, line, field, nearest, knowledge):
    assert (line, "wrong", field, nearest) in found(text, knowledge)


def test_every_fault_is_named_at_once(knowledge):
    text = "make: x\n" + "\n".join(FAULTS[i][0].removeprefix(HEAD) for i in (5, 7, 10)) + "\nfeatures: [flounce, zzzz]\n"
    assert {f[2] for f in found(text, knowledge) if f[1] == "wrong"} == {"season", "hours", "layers.lining", "features[1]"}


def test_a_fault_in_one_place_hides_none_in_another(knowledge):
    """What is misshapen is left out, and the rest is still examined for sense."""
    text = HEAD + "hours: many\ncloth_needed:\n  - {width_cm: wide, length_m: 2}\n  - {width_cm: 999, length_m: 2}\nseason: never"
    assert [f[2] for f in found(text, knowledge)] == ["hours", "cloth_needed[0].width_cm", "cloth_needed[1].width_cm", "season"]


def test_a_woven_pattern_that_suggests_a_knit_is_doubted(knowledge):
    text = HEAD + "envelope:\n  woven_or_knit: woven\n  suggests:\n    - lawn\n    - cotton jersey"
    assert found(text, knowledge) == [(7, "look", "envelope.suggests[1]", "")]


def test_a_suggested_cloth_that_falls_short_of_the_gauge_is_doubted(knowledge):
    text = HEAD + "envelope: {stretch_across: 150, suggests: [sweatshirt fleece]}"
    assert any(kind == "look" and field == "envelope.suggests[0]" for _, kind, field, _ in found(text, knowledge))


DOUBTS = [
    ("cloth_needed:\n  - {width_cm: 115, length_m: 2}\n  - {width_cm: 150, length_m: 3}", "cloth_needed[1]"),
    ("cloth_needed:\n  - {view: A, width_cm: 115, length_m: 2}\n  - {view: B, width_cm: 115, length_m: 3}", "view"),
    ("cloth_needed:\n  - {width_cm: 115, length_m: 2}\n  - {part: lining, width_cm: 115, length_m: 1}", "layers"),
    ("wanted_by: 2020-01-01", "wanted_by"),
    ("hours: 4\ncan_drop: {pockets: 6}", "can_drop"),
    ("seam_allowance_mm: 150", "seam_allowance_mm"),
]


@pytest.mark.parametrize(("text", "field"), DOUBTS)
def test_a_doubt_is_told_and_is_no_fault(text, field, knowledge):
    got = found(HEAD + text, knowledge)
    assert [f[1:3] for f in got] == [("look", field)], got


def test_the_shipped_makes_are_in_order(knowledge):
    for path in sorted((knowledge.folders[0] / "makes").glob("*.yaml")):
        assert [f for f in check_file(path, knowledge, today=TODAY).found if f.kind == "wrong"] == [], path.name


def test_a_file_that_is_not_utf_8_is_named_by_its_line(tmp_path, knowledge):
    path = tmp_path / "a.yaml"
    path.write_bytes(b"make: x\nfeatures: [flounce]\nnotes: \xff\n")
    assert [(f.line, f.kind) for f in check_file(path, knowledge).found] == [(3, "wrong")]


VALUES = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(-5, 500), st.floats(-5, 500, allow_nan=False), st.sampled_from(["flounce", "x", "2026-01-01", "A", "knit", "", "lawn"])),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(st.sampled_from(["width_cm", "length_m", "view", "size", "part", "suggests", "stretch_across", "flounce", "depth_mm", "at", "x"]), inner, max_size=3)),
    max_leaves=8,
)  # fmt: skip
FIELDS = ["make", "features", "wearer", "season", "use", "care", "envelope", "layers", "cloth_needed", "notions", "pieces", "hours", "view", "size", "part_features", "wanted_by", "fills", "can_drop", "wibble"]


@settings(max_examples=200, deadline=None)
@given(document=st.dictionaries(st.sampled_from(FIELDS), VALUES, max_size=6))
def test_whatever_a_file_holds_faults_are_told_just_where_reading_it_fails(document, knowledge):
    """No fault of shape is missed, none is made up, and nothing crashes."""
    import yaml

    from advisor.errors import Unclear

    text = yaml.safe_dump(document, allow_unicode=True)
    read = check_text(text, knowledge, today=TODAY)
    try:
        parse_make(text)
    except Unclear:
        assert read.wrong, text
