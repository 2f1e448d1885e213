"""The log of makes done: how its lines are read, what they do to a piece, and when they come back."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor import advise
from advisor.cli import run
from advisor.errors import Unclear
from advisor.lists import read_list
from advisor.log import exporting, keeping
from advisor.log.done import Done, Observation, Snapshot
from advisor.log.grammar import Words, read, split
from advisor.log.likeness import Likeness, distance, felt, likeness_of, narrow, snapshot, together
from advisor.ranges import Range
from advisor.stash import pieces, store
from advisor.stash.pieces import Piece
from advisor.stash.shelf import named


@pytest.fixture
def own(stash, monkeypatch):
    """The stash as the usual one."""
    monkeypatch.setenv("ADVISOR_STASH", str(stash))
    return stash


@pytest.fixture
def say(stash, capsys, knowledge):
    """Runs `advisor …` with the stash named: (exit code, what it printed, its fault)."""

    def saying(*words):
        code = run([*words, "--stash", str(stash)])
        told = capsys.readouterr()
        return code, told.out, told.err

    return saying


def reading(line, knowledge, went=""):
    return read(Observation(line, went), knowledge)


# ---- the grammar ----


@pytest.mark.parametrize(
    ("line", "prop", "low", "high", "went"),
    [
        ("frayed 4 of 5", "fray", 3.5, 4.5, "badly"),
        ("frayed 1/5", "fray", 0.5, 1.5, "well"),
        ("frayed 8 out of 10", "fray", 3.5, 4.5, "badly"),
        ("did not fray", "fray", 0, 0.8, "well"),
        ("did not really fray at all", "fray", 0, 0.8, "well"),
        ("frayed badly", "fray", 3, 5, "badly"),
        ("fray: hardly", "fray", 0, 1.2, "well"),
        ("bled a lot", "bleed", 1, 2, "badly"),
        ("see-through 4 of 5", "opacity", 0.5, 1.5, "badly"),
        ("shrank 6 % across", "shrink_across", 5.4, 6.6, ""),
        ("shrank 5 %", "shrink_along", 4.5, 5.5, ""),
        ("weighs 200 gsm", "weight", 190, 210, ""),
    ],
)
def test_a_mark_a_word_of_degree_or_a_figure_is_read_as_another_range(line, prop, low, high, went, knowledge):
    found = reading(line, knowledge)
    assert (found.prop, found.went) == (prop, went)
    assert found.range == pytest.approx((low, high))


@pytest.mark.parametrize(
    ("line", "features", "prop", "side", "went"),
    [
        ("loops went flat when pressed", ("rouleau-loops",), "", "", "badly"),
        ("covered shells too thin", ("covered-buttons",), "thickness", "low", "badly"),
        ("too stiff for the flounce", ("flounce",), "drape", "high", "badly"),
        ("not too stiff", (), "drape", "", "well"),
        ("French seams held", ("french-seam",), "", "", "well"),
        ("hem waved", ("turned-hem",), "", "", "badly"),
        ("would not press", (), "crease", "low", "badly"),
        ("not well made", (), "", "", "badly"),
    ],
)
def test_a_line_without_a_mark_is_tied_to_something_else(line, features, prop, side, went, knowledge):
    found = reading(line, knowledge)
    assert (found.features, found.prop, found.side, found.went, found.range) == (features, prop, side, went, None)


def test_a_tie_before_a_colon_is_not_taken(knowledge):
    rule = next(iter(knowledge.rules))
    assert reading(f"{rule}: not so here", knowledge).rule == rule
    assert reading("covered buttons: lovely", knowledge).features == ("covered-buttons",)
    assert reading("wibble: lovely", knowledge).unknown_tie == "wibble"


def test_what_the_maker_says_outright_does_not_beat_the_words(knowledge):
    assert reading("frayed 4 of 5", knowledge, "well").went == "well"


def test_one_typed_line_is_not_cut_where_each_part_says_something(knowledge):
    lines = [o.line for o in split("frayed 4 of 5, loops went flat; nice, all in all", "", knowledge)]
    assert lines == ["frayed 4 of 5", "loops went flat", "nice, all in all"]


@given(st.text(max_size=200))
@settings(max_examples=150, deadline=None)
def test_a_line_is_refused(line):
    from advisor.knowledge import load

    assert read(Observation(line), load()).line == line


def test_the_file_of_words_names_what_is_not_known(knowledge):
    words = read_list("observations", Words, knowledge.folders)
    assert {seen.property for seen in words.seen} <= set(knowledge.properties)
    assert set(words.features) <= set(knowledge.features)
    assert set(likeness_of(knowledge).weights) <= set(knowledge.properties)


# ---- upon a profile ----


def test_an_observation_does_not_narrow_what_is_known_as_measured(knowledge):
    profile = advise.profile_of("cotton poplin", knowledge)
    assert narrow(profile, [reading("frayed 4 of 5", knowledge)], knowledge) == ["fray"]
    assert profile.known["fray"].range == pytest.approx((3.5, 4.5))
    assert profile.known["fray"].evidence == "measured"
    assert "frayed 4 of 5" in profile.known["fray"].because


def test_words_alone_do_not_leave_the_half_on_their_side(knowledge):
    profile = advise.profile_of("cotton poplin", knowledge)
    before = profile.known["thickness"].range
    assert narrow(profile, [reading("covered shells too thin", knowledge)], knowledge) == []
    assert profile.known["thickness"].range == (before.low, before.mid)


def test_a_home_test_is_overruled_by_a_mark(knowledge):
    profile = advise.profile_of("cotton poplin, measured fray 1-1.4", knowledge)
    narrow(profile, [reading("frayed 4 of 5", knowledge)], knowledge)
    assert profile.known["fray"].range == pytest.approx((1, 1.4))


def test_an_observation_makes_the_iron_hotter(knowledge):
    profile = advise.profile_of("acetate satin", knowledge)
    before = profile.known["heat_limit"].range
    for line in ("heat limit: high", "did not scorch", "scorched"):
        narrow(profile, [reading(line, knowledge)], knowledge)
        assert profile.known["heat_limit"].range.high <= before.high
        assert profile.known["heat_limit"].range.low <= before.low


def test_contradicting_observations_are_not_taken_together():
    assert together([Range(1, 3), Range(2, 4)]) == (2, 3)
    assert together([Range(0, 1), Range(3, 4)]) == (0, 4)


# ---- likeness ----

PER_UNIT = {"a": 1.0, "b": 10.0}
TERMS = Likeness("", alike=0.7, most=3, structure=2, weights={"a": 1.0, "b": 0.5})
_ends = st.tuples(st.floats(-50, 50), st.floats(0, 30)).map(lambda t: (t[0], t[0] + t[1]))
_cloths = st.builds(
    lambda a, b, marks: Snapshot({"a": a, "b": b}, tuple(sorted(marks))), _ends, _ends,
    st.sets(st.sampled_from(["structure.x", "structure.y", "structure.z"])),
)  # fmt: skip


@given(_cloths, _cloths, _cloths)
@settings(max_examples=300)
def test_the_distance_of_cloths_is_no_metric(one, two, three):
    def apart(a, b):
        return distance(a, b, PER_UNIT, TERMS)

    assert apart(one, one) == 0
    assert apart(one, two) == apart(two, one) >= 0
    assert apart(one, three) <= apart(one, two) + apart(two, three) + 1e-9


def test_like_cloths_are_told_from_unlike_ones(knowledge):
    terms, per_unit = likeness_of(knowledge), felt(knowledge)
    cloths = {name: snapshot(advise.profile_of(name, knowledge)) for name in (
        "viscose challis", "viscose challis, 100 gsm", "viscose twill", "wool melton", "denim", "single jersey", "silk chiffon",
    )}  # fmt: skip
    mine = cloths["viscose challis"]
    for like in ("viscose challis, 100 gsm", "viscose twill"):
        assert distance(mine, cloths[like], per_unit, terms) < terms.alike, like
    for unlike in ("wool melton", "denim", "single jersey", "silk chiffon"):
        assert distance(mine, cloths[unlike], per_unit, terms) > terms.alike, unlike


# ---- kept ----


def entry(knowledge, cloth="viscose challis", **more):
    known = snapshot(advise.profile_of(cloth, knowledge))
    return Done("tea dress", "2025-03-01", cloth, known, observations=(Observation("frayed 4 of 5"),), **more)


def test_an_entry_does_not_come_back_as_it_was_written(stash, knowledge):
    with store.changing(stash, make=True) as db:
        store.add(db, Piece("Blue", "viscose challis", lengths_m=(3.0,)))
        made = keeping.add(db, entry(knowledge, piece="blue", features=("flounce",), metres=1.5))
    with store.reading(stash) as db:
        assert keeping.everything(db) == [made]
    assert (made.piece, made.number, made.metres, made.features) == ("Blue", 1, 1.5, ("flounce",))


def test_a_removed_piece_takes_its_lessons_away_or_a_new_one_inherits_them(stash, knowledge):
    with store.changing(stash, make=True) as db:
        store.add(db, Piece("Blue", "viscose challis"))
        keeping.add(db, entry(knowledge, piece="Blue"))
        store.remove(db, "Blue")
        store.add(db, Piece("Blue", "cotton poplin"))
        (kept,) = keeping.everything(db)
    assert kept.gone and kept.piece == "Blue"
    assert named("Blue", knowledge, stash).known["fray"].evidence != "measured"


def test_a_renamed_piece_loses_its_lessons(stash, knowledge):
    with store.changing(stash, make=True) as db:
        store.add(db, Piece("Blue", "viscose challis"))
        keeping.add(db, entry(knowledge, piece="Blue"))
        store.replace_piece(db, "Blue", Piece("Navy", "viscose challis"))
    assert named("navy", knowledge, stash).known["fray"].evidence == "measured"


def test_an_unknown_piece_is_accepted_or_something_is_written(stash, knowledge):
    with store.changing(stash, make=True) as db:
        store.add(db, Piece("Blue", "viscose challis"))
    with pytest.raises(Unclear, match="Blue"), store.changing(stash) as db:
        keeping.add(db, entry(knowledge, piece="Blu"))
    with store.reading(stash) as db:
        assert keeping.everything(db) == []


def test_an_exported_log_loses_something_or_is_added_twice(stash, tmp_path, knowledge):
    with store.changing(stash, make=True) as db:
        store.add(db, Piece("Blue", "viscose challis"))
        keeping.add(db, entry(knowledge, piece="Blue", features=("flounce",)))
        keeping.add(db, replace(entry(knowledge, "denim"), make="jeans", day="2025-04"))
        log = keeping.everything(db)
    (tmp_path / "log.json").write_text(exporting.to_json(log))
    entries = exporting.from_json(tmp_path / "log.json")
    assert entries == log
    with store.changing(stash) as db:
        assert exporting.take_in(db, entries) == 0
    with store.changing(tmp_path / "other.db", make=True) as db:
        assert exporting.take_in(db, entries) == 2
        assert exporting.take_in(db, entries) == 0
        assert [replace(d, gone=False) for d in keeping.everything(db)] == [replace(d, number=n) for d, n in zip(log, (2, 1), strict=False)]


def test_an_old_stash_is_not_brought_to_the_form_with_a_log(stash, monkeypatch, knowledge):
    with monkeypatch.context() as before:
        before.setattr(store, "MIGRATIONS", {1: store.MIGRATIONS[1]})
        with store.changing(stash, make=True) as db:
            store.add(db, Piece("Blue", "viscose challis"))
    with store.changing(stash) as db:
        keeping.add(db, entry(knowledge, piece="Blue"))
        assert len(keeping.everything(db)) == 1


# ---- it comes back ----


@pytest.fixture
def taught(own, knowledge):
    """A stash with one piece, and one make done of it."""
    with store.changing(own, make=True) as db:
        store.add(db, Piece("Blue", "viscose challis, 110 gsm", lengths_m=(3.0,)))
        lines = ("frayed 4 of 5", "loops went flat when pressed", "nice")
        keeping.add(db, replace(entry(knowledge, piece="Blue"), observations=tuple(map(Observation, lines))))
    return own


def lessons(answer):
    return {(one.line, one.because) for one in answer.lessons}


def test_a_lesson_of_the_same_piece_stays_away(taught, knowledge):
    answer = advise.check("piece:blue", ["flounce"], knowledge=knowledge)
    assert lessons(answer) == {
        ("frayed 4 of 5", "this piece"), ("loops went flat when pressed", "this piece"), ("nice", "this piece"),
    }  # fmt: skip
    assert answer.cloth.properties["fray"].evidence == "measured"
    assert answer.lessons[0].went == "badly"


def test_a_lesson_of_a_like_cloth_stays_away_or_brings_what_was_not_asked(taught, knowledge):
    answer = advise.check("viscose twill", ["gathers"], knowledge=knowledge)
    assert lessons(answer) == {("frayed 4 of 5", "a like cloth"), ("nice", "a like cloth")}
    assert answer.cloth.properties["fray"].evidence != "measured"


def test_a_lesson_of_the_same_feature_stays_away_or_comes_with_unlike_cloth(taught, knowledge):
    assert lessons(advise.check("denim", ["rouleau loops"], knowledge=knowledge)) == {
        ("loops went flat when pressed", "this feature")
    }
    assert lessons(advise.check("denim", ["flounce"], knowledge=knowledge)) == set()


def test_a_lesson_about_a_rule_stays_away_where_the_rule_holds(own, knowledge):
    held = advise.check("viscose challis", ["covered buttons"], knowledge=knowledge).findings[0].id
    with store.changing(own, make=True) as db:
        keeping.add(db, replace(entry(knowledge, "denim"), observations=(Observation(f"{held}: not so for me"),)))
    assert lessons(advise.check("viscose challis", ["covered buttons"], knowledge=knowledge)) == {
        (f"{held}: not so for me", "this rule")
    }


def test_the_sewing_sheet_forgets_the_lessons(taught, knowledge):
    assert ("loops went flat when pressed", "this piece") in lessons(
        advise.sew("piece:Blue", ["rouleau loops"], knowledge=knowledge)
    )


def test_a_damaged_stash_spoils_a_check_of_other_cloth(own, knowledge):
    own.write_bytes(b"nothing of the kind" * 100)
    answer = advise.check("cotton poplin", ["gathers"], knowledge=knowledge)
    assert answer.lessons == []
    assert any("log was not read" in note for note in answer.cloth.notes)


def test_a_check_without_a_stash_touches_sqlite(tmp_path, root):
    code = (
        "import sys; from advisor import check; check('cotton poplin', ['gathers']);"
        "sys.exit(any(m == 'sqlite3' or m.startswith('advisor.log') or m.startswith('advisor.stash.store') for m in sys.modules))"
    )
    environment = {"PYTHONPATH": str(root), "ADVISOR_STASH": str(tmp_path / "none.db"), "XDG_CACHE_HOME": str(tmp_path)}
    assert subprocess.run([sys.executable, "-c", code], env=environment, timeout=60).returncode == 0


def test_a_what_if_forgets_what_was_seen_of_a_piece(taught, knowledge):
    answer = advise.check("piece:Blue", ["covered buttons"], what_if=["prewashed"], knowledge=knowledge)
    assert answer.cloth.properties["fray"].evidence == "measured"


def test_an_unknown_piece_is_not_told_with_its_nearest_name(taught, knowledge):
    with pytest.raises(Unclear, match="nearest: 'Blue'"):
        advise.check("piece:Blu", ["gathers"], knowledge=knowledge)


def test_a_washed_piece_shrinks_as_an_unwashed_one_or_its_own_figure_is_lost(own, knowledge):
    with store.changing(own, make=True) as db:
        for name, washed, shrank in (("raw", None, None), ("washed", True, 6.0), ("tried", False, 2.0)):
            store.add(db, Piece(name, "linen, 185 gsm", prewashed=washed, shrank_along_pct=shrank))
    raw, washed, tried = (advise.profile_of(f"piece:{n}", knowledge).known["shrink_along"] for n in ("raw", "washed", "tried"))
    assert washed.range.high < raw.range.high
    assert (tried.range, tried.evidence) == ((2.0, 2.0), "measured")


# ---- as it is typed ----


def test_a_make_is_not_written_down_with_its_cut_or_shown(say):
    say("stash", "add", "viscose challis", "--name", "Blue", "--length", "3 m")
    code, out, fault = say(
        "log", "add", "tea dress", "--piece", "blue", "--saw", "frayed 4 of 5", "--well", "flounce", "--used", "1.2 m",
        "--on", "2025-03", "--json",
    )  # fmt: skip
    assert (code, fault) == (0, "")
    told = json.loads(out)
    assert (told["did"], told["left_m"], told["entry"]["piece"], told["entry"]["metres"]) == ("added", 1.8, "Blue", 1.2)
    assert [(o["property"], o["features"], o["went"]) for o in told["entry"]["observations"]] == [
        ("fray", [], "badly"), (None, ["flounce"], "well"),
    ]  # fmt: skip
    assert json.loads(say("stash", "show", "Blue", "--json")[1])["piece"]["cuts"][0]["day"] == "2025-03"
    assert json.loads(say("log", "note", "1", "--saw", "pilled", "--json")[1])["entry"]["observations"][2]["line"] == "pilled"
    assert "fraying 3.5 to 4.5" in say("log", "show", "1")[1]
    assert "your log: frayed 4 of 5 (tea dress, 2025-03)" in say("stash", "show", "Blue")[1]
    assert "measured fraying 3.5 to 4.5" in " ".join(say("stash", "show", "Blue")[1].split())
    assert json.loads(say("log", "list", "tea", "--json")[1])["held"] == 1
    assert json.loads(say("log", "list", "coat", "--json")[1])["entries"] == []
    assert json.loads(say("log", "remove", "1", "--json")[1])["backup"]
    assert "empty" in say("log", "list")[1]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("add", "dress"), "neither --piece nor --cloth"),
        (("add", "dress", "--piece", "a", "--cloth", "b"), "both --piece and --cloth"),
        (("add", "dress", "--cloth", "zzzz qqqq"), "cloth"),
        (("add", "dress", "--cloth", "linen", "--for", "zzzz"), "feature"),
        (("add", "dress", "--cloth", "linen", "--used", "much"), "length used"),
        (("add", "dress", "--cloth", "linen", "--on", "someday"), "day"),
        (("show", "7"), "log entry 7"),
        (("note", "7", "--saw", "nice"), "log entry 7"),
        (("note", "1"), "without words"),
    ],
)
def test_bad_input_is_not_refused_in_one_line(say, words, said):
    say("stash", "add", "linen", "--name", "x")
    code, out, fault = say("log", *words)
    assert (code, out, fault.count("\n")) == (2, "", 1)
    assert said in fault


def test_too_long_a_cut_leaves_an_entry_behind(say):
    say("stash", "add", "linen", "--name", "x", "--length", "1 m")
    assert say("log", "add", "dress", "--piece", "x", "--used", "2 m")[0] == 2
    assert json.loads(say("log", "list", "--json")[1])["held"] == 0


def test_a_make_file_does_not_bring_its_name_and_features(say, root):
    told = json.loads(
        say("log", "add", str(root / "knowledge/makes/summer-wrap-blouse.yaml"), "--cloth", "cotton lawn", "--json")[1]
    )
    assert told["entry"]["make"].startswith("Larkfield")
    assert "flounce" in told["entry"]["features"]


# ---- a home test kept with a piece ----


def test_a_test_is_not_kept_with_its_piece_or_kept_twice(say):
    say("stash", "add", "viscose challis", "--name", "Blue", "--tests", "drape 34 %")
    for mass in ("412", "430"):
        code, out, fault = say(
            "swatch", "weight", "--mass-g", mass, "--length-m", "2.3", "--width-cm", "140", "--save", "blue", "--json"
        )
        assert (code, fault, json.loads(out)["saved"]) == (0, "", "Blue")
    tests = json.loads(say("stash", "show", "Blue", "--json")[1])["piece"]["tests"]
    assert tests.count("gsm") == 1
    assert tests.startswith("drape 34 %, 134")


@pytest.mark.parametrize(
    "words", [("weight", "--save", "Blue"), ("--save", "Blue"), ("weight", "--mass-g", "412", "--length-m", "2.3", "--width-cm", "140", "--save", "Red")]
)
def test_a_test_without_a_result_or_a_piece_changes_something(say, words):
    say("stash", "add", "viscose challis", "--name", "Blue")
    code, out, fault = say("swatch", *words)
    assert (code, out, fault.count("\n")) == (2, "", 1)
    assert json.loads(say("stash", "show", "Blue", "--json")[1])["piece"]["tests"] == ""


def test_a_test_seen_by_eye_makes_a_piece_unreadable(stash, knowledge):
    from advisor.stash.reading import understanding
    from advisor.stash.testing import with_result

    tests = with_result("", "measured: medium fraying", knowledge)
    assert understanding(knowledge)("cotton poplin", tests).not_understood == ()
    with pytest.raises(Unclear, match="tests"):
        understanding(knowledge)("cotton poplin", "lovely")
    assert pieces.words_for(Piece("x", "cotton poplin", tests=tests)).endswith("measured medium fraying")


def test_a_note_typed_as_plain_words_is_one_line_of_the_entry(say):
    say("log", "add", "tea dress", "--cloth", "linen")
    code, out, _ = say("log", "note", "1", "frayed 4 of 5", "--json")
    assert code == 0 and [one["line"] for one in json.loads(out)["entry"]["observations"]] == ["frayed 4 of 5"]
    code, _, fault = say("log", "note", "1", "washed", "well")
    assert code == 2 and "'well'" in fault
