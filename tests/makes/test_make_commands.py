"""`advisor make` as it is typed: told by options, asked in words, read over, shown and listed."""

from __future__ import annotations

import io
import json
import os
from pathlib import Path

import pytest

from advisor import makes
from advisor.cli import run

TOLD = ["--name", "Quay skirt", "--feature", "gathered skirt", "--feature", "patch pocket", "--season", "summer", "--care", "40 wash, line dry"]


def read_make(name):
    return makes.read_make(Path(name))


@pytest.fixture
def say(tmp_path, monkeypatch, capsys, knowledge):
    """Runs a subcommand in a folder of its own, with lines to read: (exit code, what it printed, what it said)."""
    monkeypatch.chdir(tmp_path)

    def saying(*words, lines=()):
        monkeypatch.setattr("sys.stdin", io.StringIO("".join(f"{line}\n" for line in lines)))
        code = run(["make", *words])
        told = capsys.readouterr()
        return code, told.out, told.err

    return saying


def refused(told, *words):
    code, out, fault = told
    assert (code, out) == (2, "")
    assert fault.count("\n") == 1
    assert all(w in fault for w in words), fault


def test_a_make_told_by_options_is_written_and_in_order(say):
    code, out, fault = say("new", *TOLD, "--fabrics", "lightweight wovens such as lawn, voile", "--table", '45" 3 1/8 yd, 60" 2 3/8 yd')
    assert (code, fault) == (0, "")
    assert "Written: quay-skirt.yaml" in out
    made = read_make("quay-skirt.yaml")
    assert made.features == ["gathered skirt", "patch pocket"]
    assert made.envelope.suggests == ["lightweight wovens", "lawn", "voile"]
    assert [(r.width_cm, r.length_m) for r in made.cloth_needed] == [(114.3, 2.857), (152.4, 2.172)]
    assert say("check", "quay-skirt.yaml")[0] == 0


def test_nothing_is_written_where_one_answer_is_not_understood(say, tmp_path):
    refused(say("new", *TOLD, "--kind", "wovn"), "wovn", "woven")
    refused(say("new", *TOLD, "--table", '45" 3 bananas'), "bananas")
    refused(say("new", "--name", "x"), "no feature")
    refused(say("new", "--feature", "flounce"), "no name")
    refused(say("new", *TOLD, "--season", "sumer"), "summer")
    refused(say("new", *TOLD, "--from", "nothing.yaml"), "nothing.yaml")
    refused(say("new", *TOLD, "--envelope", "nothing.txt"), "nothing.txt")
    assert os.listdir(tmp_path) == []


def test_a_make_that_is_there_is_kept_unless_force_is_said(say):
    say("new", *TOLD)
    before = read_make("quay-skirt.yaml")
    refused(say("new", *TOLD, "--hours", "9"), "there already", "--force")
    assert read_make("quay-skirt.yaml") == before
    assert say("new", *TOLD, "--hours", "9", "--force")[0] == 0
    assert read_make("quay-skirt.yaml").hours == 9


def test_an_earlier_make_lends_its_answers_and_new_ones_go_before_them(say):
    say("new", *TOLD, "--hours", "9", "--layer", "lining: viscose lining")
    code, out, _ = say("new", "--from", "quay-skirt.yaml", "--name", "Second skirt", "--feature", "circle skirt", "--json")
    assert code == 0
    made = read_make("second-skirt.yaml")
    assert made.features == ["circle skirt"]
    assert (made.season, made.hours, made.layers) == ("summer", 9, {"lining": "viscose lining"})
    assert json.loads(out)["make"]["make"] == "Second skirt"


def test_a_dash_empties_an_earlier_answer(say):
    say("new", *TOLD, "--hours", "9", "--stretch", "25 % crosswise")
    say("new", "--from", "quay-skirt.yaml", "--name", "b", "--hours", "-", "--stretch", "-", "--season", "-")
    made = read_make("b.yaml")
    assert (made.hours, made.season, made.envelope.stretch_across) == (None, "", None)


ANSWERS = [
    "", "Harbour top", "T-shirt", "flunk 9", "", "adult", "sumer", "summer", "sport", "40 machine wash", "moderate stretch knits only: jersey, interlock", "",
    "", "", "from 10 cm to 13.5 cm crosswise", "Sizes S M L", "A 150 cm 1.2 1.3", "", "Sizes S M L", "A 150 cm 1.2 1.3 1.4 m", "", "Q", "m",
    "contrast: ribbed jersey", "", "thread, twin needle", "", "", "", "4", "2027-05-14", "1 cm", "",
]  # fmt: skip


def test_answers_asked_in_words_are_read_as_they_are_typed(say):
    code, _, said = say("new", lines=ANSWERS)
    assert code == 0, said
    made = read_make("harbour-top.yaml")
    assert made.features == ["T-shirt"]
    assert (made.season, made.size, made.hours, str(made.wanted_by), made.seam_allowance_mm) == ("summer", "M", 4, "2027-05-14", 10)
    assert (made.envelope.woven_or_knit, made.envelope.stretch_across) == ("knit", 35)
    assert made.layers == {"contrast": "ribbed jersey"}
    assert [r.size for r in made.cloth_needed] == ["S", "M", "L"]
    for word in ("flunk", "sumer", "2 lengths and 3 sizes", "'Q'"):  # each was refused at once, with what was expected
        assert any(word in line and "expected" in said for line in said.splitlines()), word
    assert max(len(line) for line in said.splitlines() if not line.startswith("  [")) <= 90


def test_answers_that_end_too_soon_write_nothing(say, tmp_path):
    code, out, said = say("new", lines=ANSWERS[:9])
    assert (code, out) == (2, "")
    assert "nothing was written" in said
    assert os.listdir(tmp_path) == []


def test_a_taken_name_is_told_before_the_other_questions(say):
    say("new", "--name", "Harbour top", "--feature", "T-shirt")
    code, _, said = say("new", lines=["", "Harbour top", "Quay top", *ANSWERS[2:]])
    assert code == 0
    assert said.index("there already") < said.index("What does it have?")
    assert read_make("quay-top.yaml").season == "summer"


def test_answers_are_not_lost_where_the_file_cannot_be_written(say, monkeypatch):
    from advisor.making import writing

    real = writing.write_whole

    def refusing(text, path, *, over=False):
        if path.name == "harbour-top.yaml":
            raise OSError(28, "No space left on device")
        real(text, path, over=over)

    monkeypatch.setattr(writing, "write_whole", refusing)
    code, out, said = say("new", lines=[*ANSWERS, "", "elsewhere.yaml"])
    assert code == 0, said
    assert "No space left" in said
    assert "Written: elsewhere.yaml" in out
    assert read_make("elsewhere.yaml").make == "Harbour top"


def test_a_taken_name_given_as_an_option_is_told_before_anything_is_asked(say):
    say("new", *TOLD)
    refused(say("new", *TOLD, "--ask", lines=["", ""]), "there already")


def test_a_pasted_envelope_answers_many_questions(say):
    envelope = ["Quayside dress", "Suggested fabrics: wovens such as lawn, voile.", "", "Notions: thread, 5 buttons 12 mm", 'Sizes 10 12', '45" 3 3 1/8 yd', "."]
    code, _, said = say("new", lines=[*envelope, "", "dress", "", *[""] * 8, "12", *[""] * 8])
    assert code == 0, said
    made = read_make("quayside-dress.yaml")
    assert (made.size, made.notions, made.envelope.suggests) == ("12", ["thread", "5 buttons 12 mm"], ["lawn", "voile"])


def test_check_names_each_fault_with_file_and_line_and_exits_2(say):
    with open("bad.yaml", "w", encoding="utf-8") as file:
        file.write("make: x\nfeatures: [flounce]\nseason: sumer\nhours: -1\n")
    code, out, fault = say("check", "bad.yaml")
    assert (code, fault) == (2, "")
    assert "bad.yaml:3: season" in out
    assert "bad.yaml:4: hours" in out
    assert "2 faults" in out
    code, out, _ = say("check", "bad.yaml", "--json")
    assert code == 2
    assert [r["line"] for r in json.loads(out)["files"][0]["found"]] == [3, 4]


def test_check_says_when_a_cloth_is_not_what_the_envelope_asks_for(say):
    say("new", *TOLD, "--kind", "woven")
    assert "drafted for woven cloth and this is a knit" in " ".join(say("check", "quay-skirt.yaml", "--cloth", "cotton jersey")[1].split())
    say("new", "--name", "k", "--feature", "leggings", "--kind", "knit", "--stretch", "60 % across")
    out = " ".join(say("check", "k.yaml", "--cloth", "cotton lawn", "--cloth", "sweatshirt fleece")[1].split())
    assert "drafted for knits and this is woven" in out
    assert "the envelope asks for 60 %" in out


def test_show_and_list_tell_what_is_there(say):
    code, out, _ = say("list")
    assert code == 0
    assert "examples" in out  # an empty folder
    say("new", *TOLD, "--hours", "9", "--wanted-by", "2027-01-02", "--table", "A 140 cm 1.9 m")
    with open("other.yaml", "w", encoding="utf-8") as file:
        file.write("something: else\n")
    with open("broken.yaml", "w", encoding="utf-8") as file:
        file.write("make: x\nfeatures: [\n")
    code, out, _ = say("list", "--json")
    assert [(m["make"], bool(m["problem"])) for m in json.loads(out)["makes"]] == [("Quay skirt", False), ("", True)]
    assert "other.yaml" not in say("list")[1]
    code, out, _ = say("show", "quay-skirt.yaml", "--units", "imperial")
    assert code == 0
    assert "Quay skirt" in out
    assert "yd" in out
    refused(say("show", "nothing.yaml"), "nothing.yaml")


def test_what_the_make_command_prints_fits_its_schema(say):
    import jsonschema

    from advisor.schemas import schema_of

    out = say("new", *TOLD, "--json")[1]
    jsonschema.validate(json.loads(out), schema_of("make-new"))
    jsonschema.validate(json.loads(say("check", "quay-skirt.yaml", "--json")[1]), schema_of("make-check"))
    jsonschema.validate(json.loads(say("show", "quay-skirt.yaml", "--json")[1]), schema_of("make-show"))
    jsonschema.validate(json.loads(say("list", "--json")[1]), schema_of("make-list"))
