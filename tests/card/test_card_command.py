"""`advisor card` and `advisor handout` as they are typed."""

from __future__ import annotations

import json
import os
import sys

import pytest

from advisor.card.writing import name_for, write_whole
from advisor.cli import run
from advisor.errors import Unclear
from advisor.stash import store
from advisor.stash.pieces import Piece, Reserved

PNG, PDF = b"\x89PNG", b"%PDF"


@pytest.fixture
def here(tmp_path, monkeypatch):
    """An empty folder to print into, and a stash of its own."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("ADVISOR_STASH", str(tmp_path / "stash.db"))
    return tmp_path


def test_the_card_is_not_written_or_named_after_something_else(here, capsys):
    assert run(["card", "silk charmeuse", "--for", "flounce"]) == 0
    assert (here / "card-silk-charmeuse.pdf").read_bytes().startswith(PDF)
    assert capsys.readouterr().out.startswith("card-silk-charmeuse.pdf: one card, A6.")


@pytest.mark.parametrize(("name", "start"), [("c.png", PNG), ("c.SVG", b"<svg"), ("c.pdf", PDF)])
def test_a_file_is_of_another_kind_than_its_name_says(here, name, start, capsys):
    assert run(["card", "cotton poplin", "--out", name, "--size", "index"]) == 0
    assert (here / name).read_bytes().startswith(start)


def test_an_existing_file_is_written_over_without_force(here, capsys):
    (here / "c.pdf").write_bytes(b"mine")
    assert run(["card", "cotton poplin", "--out", "c.pdf"]) == 2
    assert (here / "c.pdf").read_bytes() == b"mine"
    out, err = capsys.readouterr()
    assert out == "" and "--force" in err and err.count("\n") == 1
    assert run(["card", "cotton poplin", "--out", "c.pdf", "--force"]) == 0
    assert (here / "c.pdf").read_bytes().startswith(PDF)


def test_a_full_disk_leaves_half_a_file_or_takes_the_old_one(tmp_path, monkeypatch):
    def full(handle):
        raise OSError(28, "No space left on device")

    (tmp_path / "c.pdf").write_bytes(b"mine")
    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Unclear, match="No space left"):
        write_whole(b"new", tmp_path / "c.pdf", force=True)
    with pytest.raises(Unclear, match="No space left"):
        write_whole(b"new", tmp_path / "d.pdf")
    assert [p.name for p in tmp_path.iterdir()] == ["c.pdf"] and (tmp_path / "c.pdf").read_bytes() == b"mine"


def test_a_file_that_came_meanwhile_is_written_over(tmp_path, monkeypatch):
    path = tmp_path / "c.pdf"
    monkeypatch.setattr(os, "chmod", lambda *a: path.write_bytes(b"theirs"))
    with pytest.raises(Unclear, match="exists"):
        write_whole(b"new", path)
    assert path.read_bytes() == b"theirs" and len(list(tmp_path.iterdir())) == 1


def test_a_disk_without_links_cannot_be_written(tmp_path, monkeypatch):
    def no_links(*a):
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_links)
    write_whole(b"new", tmp_path / "c.pdf")
    assert (tmp_path / "c.pdf").read_bytes() == b"new"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--size", "a7"], "size 'a7': expected one of a6, a5, index, letter; nearest: a6."),
        (["--sheet", "a3"], "sheet 'a3': expected one of a4, letter; nearest: a4."),
        (["--out", "c.doc"], "a name ending in .pdf, .png, .svg; nearest: c.pdf."),
        (["--out", "nowhere/c.pdf"], "a folder 'nowhere' that exists"),
        (["--out", "."], "ending in"),
        (["--units", "cubits"], "metric or imperial"),
        (["--make", "none.yaml"], "make file 'none.yaml'"),
        (["--stash", "none.db"], "stash '"),
    ],
)  # fmt: skip
def test_a_wrong_argument_writes_a_file_or_more_than_one_line(here, arguments, said, capsys):
    assert run(["card", "cotton poplin", *arguments]) == 2
    out, err = capsys.readouterr()
    assert out == "" and said in err and err.count("\n") == 1
    assert list(here.iterdir()) == []


def test_a_piece_is_taken_for_words_or_its_reservation_is_lost(here, capsys):
    piece = Piece("Blue birds", "viscose challis, 95 gsm", lengths_m=(3.2,), reserved=(Reserved("Sunday blouse", 1.9),), added="2025-01-01")
    with store.changing(here / "stash.db", make=True) as db:
        store.add(db, piece)
    assert run(["card", "blue  BIRDS", "--json"]) == 0
    card = json.loads(capsys.readouterr().out)["cards"][0]
    assert card["title"] == "Blue birds" and card["kept_for"] == ["Sunday blouse, 1.90 m"]
    assert run(["card", "blu birdz"]) == 2
    assert "nearest: 'Blue birds'" in capsys.readouterr().err


def test_json_without_a_file_writes_one_or_needs_typst(here, monkeypatch, capsys):
    monkeypatch.setitem(sys.modules, "typst", None)
    assert run(["card", "cotton poplin", "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["file"] is None and answer["cards"][0]["figures"][0]["label"] == "iron"
    assert run(["card", "cotton poplin"]) == 2
    assert "pip install 'fabric-advisor[card]'" in capsys.readouterr().err
    assert not [p for p in here.iterdir() if p.suffix == ".pdf"]


def test_json_with_a_file_does_not_say_what_was_left_out(here, capsys):
    assert run(["card", "silk charmeuse", "cotton poplin", "--sheet", "a4", "--size", "index", "--json", "--out", "c.pdf"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["file"] == "c.pdf" and answer["pages"] == 1 and answer["sheet"] == "a4"
    assert all(card["left_out"] and card["text_pt"] for card in answer["cards"])


@pytest.mark.parametrize(
    ("title", "name"),
    [("Silk / Satin: 40 mm", "card-silk-satin-40-mm.pdf"), ("../../etc/passwd", "card-etc-passwd.pdf"), ("***", "card.pdf"), ("a" * 300, "card-" + "a" * 60 + ".pdf")],
)  # fmt: skip
def test_a_title_makes_a_name_that_leads_elsewhere(title, name):
    assert str(name_for(title, "card")) == name
