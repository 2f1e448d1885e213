"""Make files written whole and read back the same: advisor.making.writing."""

from __future__ import annotations

import os
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.errors import Unclear
from advisor.makes import Envelope, Make, NeededRow, PatternPiece, parse_make, read_make
from advisor.making import writing

TEXT = st.one_of(
    st.text(st.characters(blacklist_categories=["Cs", "Cc"]), max_size=20),
    st.sampled_from(["yes", "no", "on", "1e5", "0x1f", "012", "1_000", "12:30", "2026-01-01", "~", "null", "*", "&a", "- x", "a: b", "# c", "", "=", ".5", "1.", "+1", "<<", "true"]),
)  # fmt: skip
NUMBER = st.one_of(st.integers(1, 900).map(float), st.floats(0.001, 900).map(lambda v: round(v, 4)).filter(bool))
ROW = st.builds(NeededRow, NUMBER, NUMBER, TEXT, TEXT, st.sampled_from(["with", "without", "either"]), TEXT)
MAKES = st.builds(
    Make, make=TEXT,
    features=st.lists(st.one_of(TEXT, st.dictionaries(TEXT, st.one_of(st.none(), st.dictionaries(TEXT, st.one_of(NUMBER, TEXT), max_size=2)), max_size=1)), max_size=3),
    invented=st.booleans(), wearer=TEXT, care=TEXT, envelope=st.builds(Envelope, st.lists(TEXT, max_size=3), st.lists(TEXT, max_size=2), st.none() | NUMBER, st.none() | NUMBER),
    layers=st.dictionaries(TEXT, TEXT, max_size=2), cloth_needed=st.lists(ROW, max_size=3), notions=st.lists(TEXT, max_size=3),
    pieces=st.lists(st.builds(PatternPiece, TEXT, NUMBER, NUMBER), max_size=2), hours=st.none() | NUMBER,
    notes=st.one_of(TEXT, st.sampled_from(["a\nb", " lead", "trail \n\n", "tab\there"])), view=TEXT, size=TEXT, wanted_by=st.none() | st.dates(date(2020, 1, 1)), can_drop=st.dictionaries(TEXT, NUMBER, max_size=2),
)  # fmt: skip


@settings(max_examples=300, deadline=None)
@given(make=MAKES)
def test_whatever_a_make_holds_is_read_back_the_same(make):
    assert parse_make(writing.text_of(make)) == make


def test_the_shipped_makes_are_written_as_they_were_read(knowledge):
    for path in sorted((knowledge.folders[0] / "makes").glob("*.yaml")):
        make = read_make(path)
        assert parse_make(writing.text_of(make)) == make


def test_only_what_was_said_is_written():
    text = writing.text_of(Make(make="plain", features=["flounce"]))
    assert [line for line in text.splitlines() if not line.startswith("#")] == ["make: plain", "features:", "  - flounce"]


def test_a_file_that_is_there_is_kept_without_force(tmp_path):
    path = tmp_path / "a.yaml"
    path.write_text("precious", encoding="utf-8")
    with pytest.raises(Unclear, match="there already"):
        writing.write_make(Make(make="x", features=["flounce"]), path)
    assert path.read_text(encoding="utf-8") == "precious"
    writing.write_make(Make(make="x", features=["flounce"]), path, over=True)
    assert read_make(path).make == "x"


def test_a_file_that_comes_while_writing_is_kept(tmp_path, monkeypatch):
    path = tmp_path / "a.yaml"
    real = os.fsync

    def another(handle):
        path.write_text("precious", encoding="utf-8")
        real(handle)

    monkeypatch.setattr(os, "fsync", another)
    with pytest.raises(Unclear, match="there already"):
        writing.write_make(Make(make="x", features=["flounce"]), path)
    assert path.read_text(encoding="utf-8") == "precious"
    assert os.listdir(tmp_path) == ["a.yaml"]


@pytest.mark.parametrize("over", [False, True])
def test_a_disk_that_refuses_leaves_what_was_there_and_no_rest(tmp_path, monkeypatch, over):
    path = tmp_path / "a.yaml"
    if over:
        path.write_text("precious", encoding="utf-8")

    def full(handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Unclear, match="No space left"):
        writing.write_make(Make(make="x", features=["flounce"]), path, over=over)
    assert os.listdir(tmp_path) == (["a.yaml"] if over else [])
    assert not over or path.read_text(encoding="utf-8") == "precious"


def test_a_folder_that_is_not_there_is_named(tmp_path):
    with pytest.raises(Unclear, match="folder that exists"):
        writing.write_make(Make(make="x", features=["flounce"]), tmp_path / "no" / "a.yaml")


@pytest.mark.parametrize(("name", "file"), [("Saturday skirt", "saturday-skirt.yaml"), ("Élan (invented) № 7", "elan-no-7.yaml"), ("…", "make.yaml"), ("../../etc", "etc.yaml")])
def test_a_files_name_is_safe_and_follows_the_makes(name, file):
    assert writing.file_name(name) == file
