"""`advisor plan` as it is typed."""

from __future__ import annotations

import sys

import jsonschema
import pytest
from plan_telling import answered, refused

from advisor import owned
from advisor.schemas import schema_of
from advisor.stash import store

pytest.importorskip("highspy")
ON = ("--today", "2026-12-01", "--hours-a-week", "7")


def test_the_solver_greets_into_the_json_or_the_json_breaks_its_schema(typed, stash, files):
    answer = answered(typed("plan", files["blouse"], files["skirt"], "--stash", stash, *ON, "--json"))
    jsonschema.validate(answer, schema_of("plan"))
    assert [m["allotted"] for m in answer["makes"]] == [True, True]
    assert answer["today"] == "2026-12-01"


def test_a_line_of_the_plan_is_wider_than_the_terminal(typed, stash, files, monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    code, out, fault = typed("plan", *files.values(), "--stash", stash, *ON, "--by", "2026-12-09")
    assert (code, fault) == (0, "")
    assert max(len(line) for line in out.splitlines()) <= 80
    assert "LATE" in out and "What would help" in out and "The next best" in out


def test_imperial_lengths_are_not_printed(typed, stash, files):
    assert " yd (" in typed("plan", files["blouse"], "--stash", stash, *ON, "--units", "imperial")[1]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--weight", "gaps=3"], ["weight 'gaps=3'", "nearest: gap"]),
        (["--weight", "gap=-3"], ["weight 'gap=-3'"]),
        (["--weight", "gap=nan"], ["weight 'gap=nan'"]),
        (["--hours", "0"], ["--hours 0"]),
        (["--hours", "nan"], ["--hours nan"]),
        (["--hours-a-week", "500"], ["--hours-a-week 500", "0.5 to 100"]),
        (["--hours-a-week", "nan"], ["--hours-a-week nan"]),
        (["--today", "2026-12"], ["--today '2026-12'", "whole day"]),
        (["--by", "tomorrow"], ["date 'tomorrow'"]),
        (["--by", "2026-13-01"], ["date '2026-13-01'"]),
        (["--stash", "/nowhere/at/all.db"], ["/nowhere/at/all.db"]),
    ],
)
def test_bad_input_is_taken_or_not_explained(typed, stash, files, words, says):
    given = words if "--stash" in words else [*words, "--stash", stash]
    refused(typed("plan", files["blouse"], *given), *says)


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("wanted_by: 0001-01-01", ["0001-01-01", "within 10 years"]),
        ("wanted_by: 9999-12-31", ["9999-12-31", "within 10 years"]),
        ("wanted_by: soon", ["wanted_by"]),
        ("wanted_by: 2026-02-30", ["wanted_by"]),
        ("hours: 100000000", ["hours"]),
        ("hours: .nan", ["hours"]),
        ("hours: .inf", ["hours"]),
        ("hours: -3", ["hours"]),
        ("can_drop: {hem: -2}", ["can_drop"]),
        ("fills: [qwertz]", ["fills of 'Odd'", "qwertz"]),
        ("part_features: {main: [qwertz]}", ["qwertz"]),
        ("part_features: {yoke: [shirt collar]}", ["yoke", "main"]),
        ("wanted: 2026-12-24", ["wanted", "nearest: wanted_by"]),
    ],
)
def test_a_make_that_cannot_be_planned_is_planned_or_never_ends(typed, stash, tmp_path, line, says):
    path = tmp_path / "odd.yaml"
    path.write_text(f"make: Odd\nfeatures: [blouse]\ncloth_needed: [{{width_cm: 140, length_m: 1.8}}]\n{line}\n", encoding="utf-8")
    refused(typed("plan", path, "--stash", stash, *ON), *says)


def test_a_make_without_a_table_of_cloth_is_planned(typed, stash, tmp_path):
    path = tmp_path / "bare.yaml"
    path.write_text("make: Bare\nfeatures: [blouse]\n", encoding="utf-8")
    refused(typed("plan", path, "--stash", stash), "Bare", "cloth_needed")


def test_without_the_solver_there_is_a_traceback(typed, stash, files, monkeypatch):
    monkeypatch.setitem(sys.modules, "highspy", None)
    refused(typed("plan", files["blouse"], "--stash", stash), "fabric-advisor[plan]")


def test_the_plan_changes_the_stash(typed, stash, files):
    before = stash.read_bytes()
    assert typed("plan", files["blouse"], "--stash", stash, *ON)[0] == 0
    assert stash.read_bytes() == before


def test_reserving_keeps_other_than_what_is_allotted(typed, stash, files):
    said = ("plan", files["shirt"], files["blouse"], "--stash", stash, *ON, "--json")
    answer = answered(typed(*said, "--reserve"))
    assert answer["reserved"]
    wanted = {(p["piece"], m["make"]): p["reckoned_m"] for m in answer["makes"] for p in m["parts"] if p["piece"]}
    with store.reading(stash) as db:
        kept = {(p.name, r.make): r.metres for p in store.pieces(db) for r in p.reserved}
    assert kept == pytest.approx(wanted)
    again = answered(typed(*said, "--reserve"))
    assert [m["parts"] for m in again["makes"]] == [m["parts"] for m in answer["makes"]]


def test_the_hours_of_the_settings_are_not_used_or_a_wrong_figure_is_taken(typed, stash, files, tmp_path, monkeypatch):
    monkeypatch.setattr(owned, "settings_file", lambda: tmp_path / "settings.toml")
    said = ("plan", files["blouse"], "--stash", stash, "--today", "2026-12-01", "--json")
    assert answered(typed(*said))["hours_a_week"] is None
    (tmp_path / "settings.toml").write_text("hours_a_week = 5\n", encoding="utf-8")
    assert answered(typed(*said))["hours_a_week"] == 5
    assert answered(typed(*said, "--hours-a-week", "9"))["hours_a_week"] == 9
    for wrong in ("0", "true", '"six"', "1000", "nan"):
        (tmp_path / "settings.toml").write_text(f"hours_a_week = {wrong}\n", encoding="utf-8")
        refused(typed(*said), "hours_a_week")


def test_an_empty_stash_is_met_with_figures_of_nothing(typed, tmp_path, files, monkeypatch):
    monkeypatch.setenv("ADVISOR_STASH", str(tmp_path / "none.db"))
    code, out, fault = typed("plan", files["blouse"], *ON)
    assert (code, fault) == (0, "")
    assert "There is no cloth in the stash" in out and "Points" not in out and "To buy: 1.8 m at 140 cm" in out
