"""`advisor stash` as it is typed: answers on one side, one line of fault on the other, JSON for programs."""

from __future__ import annotations

import json

import pytest

from advisor.cli import run


@pytest.fixture
def say(stash, capsys, knowledge):
    """Runs a subcommand on its own stash: (exit code, what it printed, its fault)."""

    def saying(*words, file=stash):
        code = run(["stash", words[0], *words[1:], *(["--stash", str(file)] if file else [])])
        told = capsys.readouterr()
        return code, told.out, told.err

    return saying


def answered(told):
    code, out, fault = told
    assert (code, fault) == (0, "")
    return json.loads(out)


def refused(told, *words):
    code, out, fault = told
    assert (code, out) == (2, "")
    assert fault.count("\n") == 1
    assert all(w in fault for w in words), fault


def test_a_piece_goes_in_is_cut_and_leaves_its_remnant(say):
    put = answered(
        say(
            "add",
            "zorkish linen, 180 gsm",
            "--name",
            "Blue",
            "--length",
            "2 yd",
            "--width",
            "45 in",
            "--price",
            "£6 a metre",
            "--json",
        )
    )
    assert put["not_understood"] == ["zorkish"]
    assert (put["piece"]["width_cm"], put["left_m"]) == (114.3, 1.8288)
    used = answered(say("use", "blue", "1 yd", "--for", "hat", "--json"))
    assert used["left_m"] == 0.9144
    assert used["piece"]["cuts"][0]["make"] == "hat"
    assert answered(say("note", "blue", "damp iron", "--json"))["piece"]["notes"][0].endswith(" damp iron")
    shown = answered(say("show", "BLUE", "--json"))
    assert "linen" in shown["read_as"]
    listed = answered(say("list", "--json"))
    assert (listed["held"], listed["left_m"]) == (1, 0.9144)


def test_metric_json_and_imperial_text(say):
    say("add", "linen", "--length", "2", "--width", "45", "--units", "imperial")
    assert answered(say("list", "--units", "imperial", "--json"))["pieces"][0]["piece"]["lengths_m"] == [1.8288]
    assert "2.00 yd" in say("list", "--units", "imperial")[1]
    assert "45 in" in say("show", "linen", "--units", "imperial")[1]


def test_width_and_length_in_the_words_are_used(say):
    piece = answered(say("add", "linen, 150 cm wide, 3 m", "--json"))["piece"]
    assert (piece["width_cm"], piece["lengths_m"]) == (150.0, [3.0])


def test_a_piece_is_edited_reserved_released_and_removed(say):
    say("add", "linen", "--name", "a", "--length", "3 m", "--kept", "box")
    edited = answered(
        say(
            "edit",
            "a",
            "--name",
            "b",
            "--kept",
            "",
            "--add-length",
            "1 m",
            "--reserve-for",
            "coat",
            "--reserve-length",
            "2 m",
            "--prewashed",
            "--shrank",
            "5 x 3",
            "--json",
        )
    )
    assert (edited["piece"]["name"], edited["piece"]["kept"], edited["left_m"], edited["free_m"]) == ("b", "", 4.0, 2.0)
    refused(say("use", "b", "2.5 m"), "coat", "--release")
    refused(say("edit", "b", "--length", "1 m"), "reserved")
    assert answered(say("edit", "b", "--release", "coat", "--json"))["free_m"] == 4.0
    gone = answered(say("edit", "b", "--remove", "--json"))
    assert gone["backup"]
    assert answered(say("list", "--json"))["held"] == 0
    answered(say("restore", "--json"))
    assert answered(say("list", "--json"))["held"] == 1


@pytest.mark.parametrize(
    "words",
    [
        ("add", "qqqq zzzz"), ("add", ""), ("add", "linen", "--width", "9 km"),
        ("add", "linen", "--tests", "soft"), ("add", "linen", "--name", "a"),
        ("add", "linen", "--price", "much"), ("add", "linen", "--units", "cubits"), ("use", "a", "9 m"),
        ("use", "a", "0"), ("use", "a", "- 1 m"),
        ("use", "b", "1 m"),
        ("use", "a", "1 m", "--from", "4"), ("show", "b"), ("note", "a", " "), ("edit", "a"), ("edit", "a", "--description", "qqqq"),
        ("edit", "a", "--release", "coat"), ("import", "nowhere.csv"),
        ("export", "x.pdf"), ("restore", "nowhere.db"), ("restore",), ("ad", "linen"),
        ("add", "linen", "--leng", "2"), ("use", "a"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_in_one_line_and_changes_nothing(say, words):
    say("add", "linen", "--name", "a", "--length", "2 m")
    before = say("export")
    refused(say(*words))
    assert say("export") == before


def test_an_unknown_piece_names_the_nearest(say):
    say("add", "linen", "--name", "summer linen", "--length", "2 m")
    refused(say("use", "sumer linen", "1 m"), "nearest: 'summer linen'")
    refused(say("ad", "x"), "nearest: add")


def test_a_missing_stash_that_was_named_is_said(say, tmp_path):
    for words in (("list",), ("show", "a"), ("use", "a", "1 m"), ("backup",)):
        refused(say(*words, file=tmp_path / "none.db"), "none.db")
    refused(say("add", "linen", file=tmp_path / "no" / "folder.db"), "folder")


def test_the_usual_place_begins_empty(say, monkeypatch, tmp_path):
    monkeypatch.setenv("ADVISOR_STASH", str(tmp_path / "deep" / "stash.db"))
    assert answered(say("list", "--json", file=None))["held"] == 0
    assert "advisor stash add" in say("list", file=None)[1]
    assert answered(say("add", "linen", "--json", file=None))["did"] == "added"
    assert answered(say("list", "--json", file=None))["held"] == 1


def test_a_guessed_import_waits_for_a_yes(say, tmp_path):
    path = tmp_path / "list.csv"
    path.write_text("Fabric,Breadth,Left\nlinen,140,2\nqqqq zzzz,140,2\n")
    refused(say("import", str(path)), "--yes", "--map", "Breadth")
    offered = answered(say("import", str(path), "--json"))
    assert (offered["confirmed"], offered["added"]) == (False, [])
    done = answered(say("import", str(path), "--yes", "--json"))
    assert (done["added"], [r["row"] for r in done["not_read"]]) == (["linen"], [3])
    again = answered(say("import", str(path), "--yes", "--json"))
    assert (again["added"], again["known"]) == ([], 1)
    code, out, _ = say("import", str(path), "--yes", "--all-or-nothing", "--json")
    assert code == 2
    assert json.loads(out)["added"] == []
    told = answered(
        say(
            "import",
            str(path),
            "--map",
            "Fabric=description",
            "--map",
            "Breadth=width_cm",
            "--map",
            "Left=length_m",
            "--json",
        )
    )
    assert told["confirmed"]


@pytest.mark.parametrize("form", ["csv", "json"])
def test_an_export_comes_back_whole(say, tmp_path, form):
    say(
        "add",
        "linen, 180 gsm",
        "--name",
        "=a",
        "--length",
        "2 m + 1.5 m",
        "--note",
        "x",
        "--note",
        "y",
        "--reserve-for",
        "coat",
    )
    say("add", "wool", "--length", "3 m", "--tests", "drape 40 %", "--not-prewashed", "--bought", "May 2024")
    say("use", "wool", "1 m")
    path = tmp_path / f"out.{form}"
    assert answered(say("export", str(path), "--json"))["pieces"] == 2
    refused(say("export", str(path)), "--replace")
    other = tmp_path / "other.db"
    assert len(answered(say("import", str(path), "--json", file=other))["added"]) == 2
    assert say("export", "--format", "json")[1] == say("export", "--format", "json", file=other)[1]


def test_backups_are_made_listed_and_never_written_over(say, tmp_path):
    say("add", "linen")
    made = answered(say("backup", "--json"))
    assert made["pieces"] == 1
    assert answered(say("backup", "--list", "--json"))["backups"] == [made["backup"]]
    refused(say("backup", made["backup"]), "not exist")


def test_restoring_from_a_file_that_is_no_stash_blames_that_file_and_not_the_stash(say, stash, tmp_path):
    say("add", "linen", "--length", "2 m")
    kept = stash.read_bytes()
    for content in (b"hello", b"SQLite format 3\0" + bytes(range(256)) * 40):
        wrong = tmp_path / "holiday.db"
        wrong.write_bytes(content)
        refused(say("restore", str(wrong)), f"backup '{wrong}'", "no stash", "nothing was changed")
    assert stash.read_bytes() == kept


def test_a_piece_is_not_named_after_a_length_that_will_be_cut_from(say):
    said = {
        "viscose crepe, rust, 3 m, 140 cm wide": "viscose crepe, rust",
        'cotton lawn, 2 1/2 yd, 45" wide': "cotton lawn",
        "linen, 180 gsm": "linen, 180 gsm",
        "denim, 12 oz, 2.5 metres": "denim, 12 oz",
    }
    for words, name in said.items():
        piece = answered(say("add", words, "--json"))["piece"]
        assert (piece["name"], piece["description"]) == (name, words)


def test_a_day_of_buying_that_is_still_to_come_is_refused(say):
    refused(say("add", "linen", "--bought", "2190-01"), "2190-01", "has begun", "nearest: ")
    answered(say("add", "linen", "--bought", "2024", "--json"))
    refused(say("edit", "linen", "--bought", "2190-01-01"), "2190-01-01")
    assert answered(say("edit", "linen", "--bought", "", "--json"))["piece"]["bought"] == ""


def test_a_cut_from_a_piece_whose_length_was_never_said_does_not_call_it_used_up(say):
    say("add", "silk satin")
    refused(say("use", "silk satin", "1 m"), "no length is noted", "--length")


def test_remove_takes_one_piece_out_and_keeps_a_backup(say, stash):
    say("add", "linen", "--length", "2 m")
    say("add", "silk satin")
    gone = answered(say("remove", "linen", "--json"))
    assert gone["did"] == "removed" and gone["backup"]
    assert [row["piece"]["name"] for row in answered(say("list", "--json"))["pieces"]] == ["silk satin"]
    refused(say("remove", "silk stain"), "nearest: 'silk satin'")


def test_nothing_in_all_is_said_as_nought_and_one_piece_as_one(say):
    say("add", "silk satin")
    code, out, _ = say("list")
    assert code == 0 and "1 of 1 piece, 0 m in all." in out


def test_a_cell_that_says_nothing_keeps_no_piece_out_and_a_price_in_words_is_kept_as_a_note(say, tmp_path):
    file = tmp_path / "mine.csv"
    file.write_text("Fabric,How long,Width,Bought,Paid\nlinen,2 m,?,n/a,-\ncotton lawn,1.5 m,140,2024,gift from Ann\nsilk,-,140,,12\n")
    code, out, _ = say("import", str(file), "--yes", "--json")
    assert code == 0 and json.loads(out)["not_read"] == []
    held = {row["piece"]["name"]: row["piece"] for row in json.loads(say("list", "--json")[1])["pieces"]}
    assert held["linen"]["lengths_m"] == [2.0] and held["linen"].get("width_cm") is None
    assert held["cotton lawn"]["notes"] == ["Paid: gift from Ann"]
    assert held["silk"].get("lengths_m", []) == []


def test_no_force_writes_an_export_or_a_make_over_the_stash(say, stash, capsys, knowledge):
    say("add", "linen", "--length", "2 m")
    kept = stash.read_bytes()
    refused(say("export", str(stash), "--format", "csv", "--replace"), "stash", "never written over")
    for words in (["log", "export", str(stash), "--replace", "--stash", str(stash)],
                  ["make", "new", "--name", "Q", "--feature", "flounce", "--out", str(stash), "--force"]):  # fmt: skip
        assert run(words) == 2
        assert "never written over" in capsys.readouterr().err
    assert stash.read_bytes() == kept
