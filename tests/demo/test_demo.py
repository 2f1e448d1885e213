"""The demonstration: its data hold what they say, and the whole day is answered as it is told: advisor.demo, cli.demo."""

from __future__ import annotations

import json
import os
import shlex
import sys
import tempfile
from pathlib import Path

import pytest

from advisor import demo
from advisor.cli import run
from advisor.errors import Unclear
from advisor.log import grammar
from advisor.log.done import Observation
from advisor.makes import read_make
from advisor.making.checking import check_file
from advisor.stash import importing
from advisor.stash.reading import understanding


@pytest.fixture(scope="module")
def scenario():
    return demo.read_scenario()


@pytest.fixture(scope="module")
def pieces(knowledge):
    table = importing.read_table(demo.folder() / "stash.csv")
    found, refused = importing.rows_of(table, importing.propose(table), understanding(knowledge))
    assert refused == []
    return [row.piece for row in found]


@pytest.fixture(scope="module")
def makes():
    return {path: read_make(path) for path in sorted((demo.folder() / "makes").glob("*.yaml"))}


@pytest.fixture(scope="module")
def day(tmp_path_factory, knowledge):
    """The whole day, run once: the steps by command, and the folder in which it was kept."""
    import io
    from contextlib import redirect_stdout

    kept = tmp_path_factory.mktemp("demo") / "day"
    told = io.StringIO()
    with redirect_stdout(told):
        assert run(["demo", "--json", "--keep", str(kept)]) == 0
    return json.loads(told.getvalue())["steps"], kept


def printed(day, *words):
    """What the one step printed whose command holds these words."""
    found = [s for s in day[0] if all(w in s["command"] for w in words)]
    assert len(found) == 1, words
    return " ".join(found[0]["printed"].split())


def test_the_counts_are_those_that_are_told(scenario, pieces, makes):
    assert (len(pieces), len(makes), len(scenario.wardrobe), len(scenario.log)) == (40, 8, 12, 6)


def test_every_piece_is_read_whole(pieces, knowledge):
    understand = understanding(knowledge)
    assert len({p.name.casefold() for p in pieces}) == 40
    for piece in pieces:
        read = understand(piece.description, piece.tests)
        assert read.not_understood == (), piece.name
        assert piece.width_cm, piece.name
        assert piece.left_m > 0, piece.name


def test_every_make_is_in_order_without_a_doubt_and_says_that_it_is_invented(makes, knowledge, scenario):
    for path, make in makes.items():
        assert check_file(path, knowledge, today=scenario.today).found == [], path.name
        assert make.invented
        assert "(invented)" in make.make
        assert make.wanted_by
        assert make.wanted_by > scenario.today


def test_every_past_make_has_a_lesson_that_is_understood(scenario, pieces, knowledge):
    names = {p.name for p in pieces}
    for past in scenario.log:
        assert bool(past.piece) != bool(past.cloth)
        assert not past.piece or past.piece in names
        assert past.on < str(scenario.today)
        read = [grammar.read(Observation(line), knowledge) for line in past.saw]
        assert any(r.prop or r.features for r in read), past.make


def test_every_step_answers_as_the_day_tells(day, scenario):
    steps = [s for s in scenario.steps if s.run]
    assert [(s["command"], s["code"]) for s in day[0]] == [(f"advisor {s.run}", s.code) for s in steps]
    assert all(s["printed"].strip() for s in day[0])
    assert not any("Traceback" in s["printed"] for s in day[0])


def test_the_days_work_covers_what_its_user_does(scenario):
    done = {tuple(shlex.split(s.run)[:2]) if shlex.split(s.run)[0] in ("stash", "make", "log", "need", "wardrobe") else shlex.split(s.run)[0] for s in scenario.steps if s.run}
    assert {("stash", "import"), ("make", "new"), ("make", "check"), "pick", "check", "press", "prewash", ("need", "make"), "plan", ("wardrobe", "gaps"), ("log", "add"), ("stash", "use")} <= done


def test_what_the_story_says_is_what_the_advisor_answers(day):
    """Each sentence that names an outcome is held to it: a change of the judging must change the story too."""
    assert "40 pieces brought in" in printed(day, "stash import")
    assert "not understood" not in printed(day, "stash import")
    assert "drafted for woven cloth and this is a knit" in printed(day, "make check")
    picked = printed(day, "advisor pick candlemas")
    assert "1. gull lawn" in picked
    assert "mussel challis" in picked
    checked = printed(day, "check", "viscose challis")
    assert "From your own log" in checked
    assert "frays before it is drawn up" in checked
    assert "YOUR PIECE SERVES" in printed(day, "need make")
    plan = printed(day, "advisor plan")
    assert "4 OF 4 MAKES FROM THE STASH" in plan
    assert "of 'gull lawn'" in plan
    assert "of 'toile calico'" not in plan
    assert "dresses for warm days" in printed(day, "wardrobe gaps")
    assert "1.00 m left" in printed(day, "log add")
    assert "0.70 m left" in printed(day, "stash use", "pocket square")
    assert "nearest: 'gull lawn'" in printed(day, "gul lawn")


def test_what_is_kept_can_be_gone_on_with(day, capsys):
    kept = day[1]
    assert run(["stash", "list", "--json", "--stash", str(kept / demo.STASH)]) == 0
    assert json.loads(capsys.readouterr().out)["held"] == 40
    assert run(["wardrobe", "list", "--json", "--stash", str(kept / demo.STASH)]) == 0
    assert run(["log", "list", "--json", "--stash", str(kept / demo.STASH)]) == 0
    assert '"held": 7' in capsys.readouterr().out


def test_nothing_of_the_users_own_is_touched_and_nothing_is_left_behind(monkeypatch, tmp_path, capsys, scenario, knowledge):
    from advisor.stash import store

    short = demo.Scenario(True, "t", [], scenario.today, [], [], scenario.steps[:1])
    monkeypatch.setattr(demo, "read_scenario", lambda: short)
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    monkeypatch.setattr(tempfile, "tempdir", None)
    monkeypatch.delenv("ADVISOR_STASH", raising=False)
    here, own = os.getcwd(), store.default_path()
    was = own.exists()
    assert run(["demo"]) == 0
    assert "40 pieces brought in" in capsys.readouterr().out
    assert (os.getcwd(), "ADVISOR_STASH" in os.environ, own.exists()) == (here, False, was)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_holds_something_is_left_alone(tmp_path, capsys):
    (tmp_path / "mine.txt").write_text("precious", encoding="utf-8")
    assert run(["demo", "--keep", str(tmp_path)]) == 2
    fault = capsys.readouterr()
    assert fault.out == ""
    assert "empty or not there yet" in fault.err
    assert [p.name for p in tmp_path.iterdir()] == ["mine.txt"]


def test_a_step_that_answers_otherwise_stops_the_day_with_its_reason(monkeypatch, capsys, scenario, knowledge):
    wrong = demo.Scenario(True, "t", [], scenario.today, [], [], [demo.Step("x", run="stash show nothing")])
    monkeypatch.setattr(demo, "read_scenario", lambda: wrong)
    here = os.getcwd()
    assert run(["demo"]) == 2
    assert "'advisor stash show nothing' ended with 2" in capsys.readouterr().err
    assert os.getcwd() == here


def test_a_step_that_lacks_an_optional_package_is_told_and_the_day_goes_on(monkeypatch, capsys, scenario, knowledge):
    steps = [demo.Step("x", run="plan candlemas-blouse.yaml"), demo.Step("y", run="stash list")]
    monkeypatch.setattr(demo, "read_scenario", lambda: demo.Scenario(True, "t", [], scenario.today, [], [], steps))
    monkeypatch.setitem(sys.modules, "highspy", None)
    assert run(["demo"]) == 0
    out = capsys.readouterr().out
    assert "Left out here: " in out and "fabric-advisor[plan]" in out
    assert out.index("stash list") > out.index("Left out here: ")


def test_a_scenario_that_is_not_in_order_is_named(tmp_path):
    path = tmp_path / "scenario.yaml"
    path.write_text("invented: true\ntitle: x\n", encoding="utf-8")
    with pytest.raises(Unclear, match="scenario"):
        demo.read_scenario(path)


def test_long_commands_are_shown_as_a_shell_takes_them():
    from advisor.cli.demo import _on_lines

    command = 'advisor make new --name "a b" ' + " ".join(f"--feature f{i}" for i in range(12))
    lines = _on_lines(f"$ {command}")
    assert max(map(len, lines)) <= 80
    joined = "\n".join(lines).removeprefix("$ ").replace("\\\n", " ")
    assert shlex.split(joined) == shlex.split(command)


def test_the_data_are_files_and_the_program_names_none_of_them(root, pieces, scenario):
    text = "".join((root / p).read_text(encoding="utf-8") for p in ("advisor/demo.py", "advisor/cli/demo.py"))
    assert not any(piece.name in text for piece in pieces)
    assert Path(demo.folder() / "scenario.yaml").is_file()
