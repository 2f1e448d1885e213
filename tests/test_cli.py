"""The command line: exit codes, one line for what is not understood, JSON, and plain text of 80 columns: advisor.cli."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys

import jsonschema
import msgspec
import pytest
import typer

from advisor.cli import COMMANDS, main, run
from advisor.schemas import EVERY

MAKE = "knowledge/makes/summer-wrap-blouse.yaml"

GOOD = [
    ["check", "viscose challis, 95 gsm", "--for", "covered buttons", "--for", "flounce"],
    ["check", "cotton canvas", "--for", "flounce", "--season", "summer", "--care", "40 machine wash"],
    ["check", "wool flannel, 280 gsm", "--for", "tailored jacket"],
    ["check", "silk qwertzuiop", "--for", "narrow rolled hem"],
    ["press", "silk velvet"],
    ["press", "polypropylene"],
    ["press", "97% cotton 3% elastane poplin", "--units", "imperial"],
    ["prewash", "linen, 180 gsm", "--care", "40 wash, line dry"],
    ["prewash", "leather"],
    ["pick", MAKE, "--cloth", "viscose challis", "--cloth", "cotton lawn"],
    ["list", "fibres"],
    ["list", "features", "collar"],
    ["sew", "cotton poplin", "--for", "French seam", "--allowance", "5/8 in", "--units", "imperial"],
    ["inspect", "wool melton", "--length", "3 1/4 yd", "--units", "imperial"],
    ["need", "width", "--length", "2 yd", "--from", "45", "--to", "60", "--cloth", "linen 185 gsm", "--units", "imperial"],
    ["swatch", "weight", "--mass-g", "94", "--length-m", "2", "--width-cm", "140"],
    ["rescue", "hem waves", "viscose challis", "--units", "imperial"],
]
"""Command lines that are answered, whatever the verdict."""

BAD = {
    "an unknown cloth": ["check", "qwertzuiop", "--for", "flounce"],
    "an empty cloth": ["press", ""],
    "an unknown feature": ["check", "cotton poplin", "--for", "frobnicated doom"],
    "no feature": ["check", "cotton poplin"],
    "an impossible figure of a feature": ["check", "cotton poplin", "--for", "flounce 900 cm deep"],
    "a negative weight": ["press", "cotton, -120 gsm"],
    "nine kilograms a square metre": ["press", "cotton, 9000 gsm"],
    "shares over a hundred": ["press", "60% cotton 70% linen"],
    "one share over a hundred": ["press", "130% cotton"],
    "a span written backwards": ["press", "cotton, 120-100 gsm"],
    "an unknown option": ["press", "cotton", "--stem", "yes"],
    "an option without its value": ["check", "cotton", "--for"],
    "too many arguments": ["press", "cotton", "linen"],
    "a missing argument": ["press"],
    "an unknown command": ["prss", "cotton"],
    "an unknown unit": ["press", "cotton", "--units", "cubits"],
    "an unknown unit of a quantity": ["need", "zip", "--opening", "20", "--units", "cubits"],
    "a length that is none": ["inspect", "cotton", "--length", "soon"],
    "no length at all": ["inspect", "cotton", "--metres", "0"],
    "two lengths": ["inspect", "cotton", "--length", "3", "--metres", "3"],
    "an allowance that none prints": ["sew", "cotton", "--allowance", "9 in"],
    "an unknown season": ["check", "cotton", "--for", "flounce", "--season", "monsoonish"],
    "a make that is not there": ["pick", "no-such-make.yaml"],
    "a list that is not there": ["pick", MAKE, "--from", "no-such-list.csv"],
    "an unknown kind": ["list", "clothes-pegs"],
    "an unknown id": ["explain", "qwertzuiop"],
    "a knowledge folder that is not there": ["press", "cotton", "--knowledge", "no-such-folder"],
    "a number out of range": ["pick", MAKE, "--top", "0"],
}


@pytest.fixture(autouse=True)
def _at_the_root(root, monkeypatch):
    monkeypatch.chdir(root)
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.delenv("FORCE_COLOR", raising=False)


def spoken(arguments, capsys):
    try:
        code = run(arguments)
    except SystemExit as stop:
        code = stop.code
    out, err = capsys.readouterr()
    return code, out, err


@pytest.mark.parametrize("arguments", GOOD, ids=" ".join)
def test_what_is_understood_is_answered_with_0_on_standard_output(knowledge, arguments, capsys):
    code, out, err = spoken(arguments, capsys)
    assert (code, err) == (0, "")
    assert out.strip()


@pytest.mark.parametrize("what", BAD)
def test_what_is_not_understood_is_one_line_on_standard_error_and_nothing_on_output(knowledge, what, capsys):
    code, out, err = spoken(BAD[what], capsys)
    assert code == 2
    assert out == ""
    assert err.endswith("\n")
    assert err.count("\n") == 1
    assert "Traceback" not in err


@pytest.mark.parametrize("what", BAD)
def test_bad_input_with_json_prints_no_json(knowledge, what, capsys):
    code, out, err = spoken([*BAD[what], "--json"], capsys)
    assert code == 2
    assert out == ""
    assert err.count("\n") == 1


@pytest.mark.parametrize(("arguments", "nearest"), [
    (["prss", "cotton"], "press"), (["press", "cotton", "--unit", "metric"], "--units"), (["list", "cloth-s"], "cloths"),
    (["check", "cotton", "--for", "flounces frob"], "flounce"),
])  # fmt: skip
def test_the_line_names_the_nearest_valid_choice_or_it_is_read(knowledge, arguments, nearest, capsys):
    code, out, err = spoken(arguments, capsys)
    assert nearest in (err if code == 2 else out)


@pytest.mark.parametrize(("arguments", "said"), [
    (["press", "cotton", "--unit", "metric"], "nearest: --units"),
    (["stash", "remov", "linen"], "no such command 'remov': expected as 'advisor stash --help' shows; nearest: remove."),
    (["stash", "use", "linen", "1 m", "please"], "'please'"),
    (["plan", "x.yaml", "--hours-a-week", "three"], "'--hours-a-week': a figure was expected"),
    (["page", "--port", "99999"], "'--port': at most 65535 was expected"),
    (["stash", "use", "linen", "1 m", "--from", "x"], "'--from': a figure was expected"),
    (["log", "show", "first"], "'number': a figure was expected"),
])  # fmt: skip
def test_a_slip_in_an_option_is_told_once_and_in_our_own_words(knowledge, arguments, said, capsys):
    code, _, err = spoken(arguments, capsys)
    assert code == 2
    assert said in err
    assert not any(theirs in err for theirs in ("Possible option", "Did you mean", "Input should", "is not a valid", "argument(s)"))


@pytest.mark.parametrize("arguments", [a for a in GOOD if a[0] in EVERY], ids=" ".join)
def test_json_is_one_document_that_keeps_the_schema(knowledge, arguments, capsys):
    code, out, err = spoken([*arguments, "--json"], capsys)
    assert (code, err) == (0, "")
    answer = json.loads(out)
    jsonschema.validate(answer, msgspec.json.schema(EVERY[arguments[0]]))


def test_json_is_metric_whatever_units_are_asked(knowledge, capsys):
    metric = spoken(["press", "cotton", "--json"], capsys)[1]
    imperial = spoken(["press", "cotton", "--units", "imperial", "--json"], capsys)[1]
    assert metric == imperial


def test_json_is_the_same_whatever_the_width_of_the_terminal(knowledge, capsys, monkeypatch):
    wide = spoken(["check", "denim", "--for", "jeans", "--json"], capsys)[1]
    monkeypatch.setenv("COLUMNS", "40")
    assert spoken(["check", "denim", "--for", "jeans", "--json"], capsys)[1] == wide


@pytest.mark.parametrize("arguments", [*GOOD, ["--help"], ["doctor"], ["explain", "viscose"]], ids=" ".join)
def test_piped_text_holds_no_escape_codes_and_never_exceeds_80_columns(knowledge, arguments, capsys):
    _, out, _ = spoken(arguments, capsys)
    assert "\x1b" not in out
    long = [line for line in out.splitlines() if len(line) > 80]
    assert long == []


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_explains_itself(command, capsys):
    code, out, err = spoken([command, "--help"], capsys)
    assert (code or 0, err) == (0, "")
    assert "--" in out


@pytest.mark.parametrize("arguments", [[], ["--help"], ["help"], ["--version"]])
def test_the_overview_and_the_version_are_answered(arguments, capsys):
    code, out, err = spoken(arguments, capsys)
    assert (code, err) == (0, "")
    assert out.strip()


def process(arguments, **environment):
    settings = {**os.environ, "COLUMNS": "80", **environment}
    return subprocess.run(
        [sys.executable, "-m", "advisor", *arguments], capture_output=True, text=True, env=settings, timeout=60
    )


def test_a_process_ends_with_the_same_codes():
    good = process(["press", "cotton poplin"])
    assert (good.returncode, good.stderr) == (0, "")
    bad = process(["press", "qwertzuiop"])
    assert (bad.returncode, bad.stdout) == (2, "")
    assert len(bad.stderr.splitlines()) == 1


@pytest.mark.skipif(sys.platform == "win32", reason="a terminal is imitated with a pty")
@pytest.mark.parametrize(("colour", "shown"), [({}, True), ({"NO_COLOR": "1"}, False)])
def test_a_terminal_gets_colour_unless_no_color_is_set(root, colour, shown):
    import pty

    host, terminal = pty.openpty()
    settings = {**{k: v for k, v in os.environ.items() if k != "NO_COLOR"}, "TERM": "xterm", **colour}
    child = subprocess.Popen(
        [sys.executable, "-m", "advisor", "check", "viscose challis", "--for", "flounce"],
        stdout=terminal, stderr=terminal, env=settings, cwd=root,
    )  # fmt: skip
    os.close(terminal)
    seen = b""
    while True:
        try:
            part = os.read(host, 65536)
        except OSError:
            break
        if not part:
            break
        seen += part
    child.wait(60)
    os.close(host)
    assert b"\x1b[3" in seen.replace(b"\x1b[1;", b"\x1b[") or not shown
    assert (re.search(rb"\x1b\[[0-9;]*m", seen) is not None) == shown


@pytest.mark.parametrize("raised", [KeyboardInterrupt, typer.Abort])
def test_ctrl_c_wherever_it_comes_ends_with_130_and_no_traceback(raised, capsys, monkeypatch):
    def stop(*_, **__):
        raise raised

    monkeypatch.setattr("advisor.cli.list.knowledge_from", stop)
    assert run(["list", "fibres"]) == 130
    monkeypatch.setattr("advisor.cli.import_module", stop)  # as early as that: before the options are read
    if raised is KeyboardInterrupt:
        monkeypatch.setattr(sys, "argv", ["advisor", "list", "fibres"])
        with pytest.raises(SystemExit) as ended:
            main()
        assert ended.value.code == 130
    assert "Traceback" not in capsys.readouterr().err


def test_a_closed_pipe_is_no_error(root):
    done = subprocess.run(
        f"{sys.executable} -m advisor list cloths | head -n 1",
        shell=True,
        capture_output=True,
        text=True,
        timeout=60,
        cwd=root,
    )
    assert "Traceback" not in done.stderr
    assert done.stdout.strip()


def test_own_knowledge_that_does_not_hold_together_is_told_problem_by_problem(knowledge, tmp_path, capsys):
    (tmp_path / "cloths.yaml").write_text(
        "x-cloth: {names: [x cloth], fibres: {cottin: 100}, structure: plian, source: common practice}"
    )
    code, out, err = spoken(["press", "x cloth", "--knowledge", str(tmp_path)], capsys)
    assert (code, out) == (2, "")
    assert "cottin" in err
    assert "plian" in err


def test_a_make_and_a_list_of_cloths_are_ranked_row_by_row(knowledge, tmp_path, capsys):
    rows = tmp_path / "mine.csv"
    rows.write_text("cloth,weight_gsm\nviscose challis,110\ncotton canvas,\nqwertzuiop,\n", encoding="utf-8")
    code, out, _ = spoken(["pick", MAKE, "--from", str(rows), "--json"], capsys)
    answer = json.loads(out)
    assert code == 0
    assert len(answer["ranking"]) == 2
    assert len(answer["not_read"]) == 1


def test_the_importable_core_needs_neither_typer_nor_rich_nor_sqlite(root):
    views = ("typer", "click", "rich", "sqlite3")
    asked = "import sys, advisor; advisor.check('cotton poplin', ['flounce'])"
    code = f"{asked}; print([m for m in {views} if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=root, timeout=60)
    assert done.stdout.strip() == "[]", done.stderr


@pytest.fixture
def imperial_settings(monkeypatch, tmp_path):
    from advisor.owned import settings_file

    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    settings_file().parent.mkdir(parents=True)
    settings_file().write_text('units = "imperial"\n', encoding="utf-8")


WITHOUT_FIGURES = {"doctor", "wardrobe", "page", "demo"}
"""Commands that print no length or heat of their own."""

SUBCOMMAND = {"stash": "list", "make": "new", "log": "add"}


@pytest.mark.parametrize("command", [c for c in COMMANDS if c not in WITHOUT_FIGURES])
def test_a_command_takes_no_units(command, capsys):
    _, out, err = spoken([command, *([SUBCOMMAND[command]] if command in SUBCOMMAND else []), "--help"], capsys)
    assert "--units" in out + err


@pytest.mark.parametrize("arguments", [a for a in GOOD if "--units" not in a], ids=" ".join)
def test_a_setting_of_imperial_units_is_passed_over(knowledge, imperial_settings, arguments, capsys):
    by_setting = spoken(arguments, capsys)
    assert by_setting == spoken([*arguments, "--units", "imperial"], capsys)
    assert spoken([*arguments, "--units", "metric"], capsys)[0] == 0


def test_a_bare_figure_is_metres_though_the_settings_say_yards(knowledge, imperial_settings, capsys):
    asked = ["need", "width", "--length", "2", "--from", "45", "--to", "60", "--json"]
    assert json.loads(spoken(asked, capsys)[1])["width"]["pattern_m"] == json.loads(
        spoken([*asked[:3], "2 yd", "--from", "45 in", "--to", "60 in", "--units", "metric", "--json"], capsys)[1]
    )["width"]["pattern_m"]
