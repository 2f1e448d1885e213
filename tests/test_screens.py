"""What a dressmaker meets on the screens of the deciding commands: width, wording, refusals, names that can be asked for."""

from __future__ import annotations

import re

import pytest

from advisor import check, press
from advisor.cli import run

BLOUSE = "knowledge/makes/summer-wrap-blouse.yaml"


def said(capsys, *arguments: str) -> tuple[int, str, str]:
    capsys.readouterr()
    code = run(list(arguments))
    out, err = capsys.readouterr()
    return code, out, err


@pytest.fixture(autouse=True)
def _eighty(monkeypatch, root):
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.chdir(root)


@pytest.mark.parametrize("arguments", [
    ("pick", BLOUSE, "--no-stash", "--cloth", "viscose challis", "--cloth", "wool melton"), ("pick", BLOUSE, "--shop"), ("ideas", "linen 185 gsm"),
    ("check", "silk charmeuse", "--for", "bias V-neck", "--why"), ("explain", "covered buttons"), ("list", "features", "zip"),
    ("need", "buttons", "--count", "9", "--diameter", "12 mm"), ("prewash", "cotton lawn", "--with", "zip=metal zip", "--with", "interfacing=fusible interfacing"),
], ids=" ".join)  # fmt: skip
def test_a_line_runs_past_the_edge_of_the_terminal(capsys, arguments):
    code, out, _ = said(capsys, *arguments)
    assert code == 0
    assert [line for line in out.splitlines() if len(line) > 80] == []


def test_the_figures_that_were_said_are_not_said_back(capsys):
    out = said(capsys, "check", "viscose challis", "--for", "flounce 25 cm deep", "--for", "9 covered buttons 12 mm")[1]
    assert "flounce, 25 cm" in out and "9 covered buttons, 12 mm" in out
    inches = said(capsys, "check", "viscose challis", "--for", "flounce 10 in deep", "--units", "imperial")[1]
    assert "flounce, 10 in" in inches


def test_the_cautions_of_a_childs_nightdress_stand_behind_those_of_every_iron(capsys):
    out = said(capsys, "check", "brushed cotton", "--for", "nightdress", "--wearer", "child", "--use", "nightwear")[1]
    safety = out.partition("\nSafety\n")[2]
    assert safety.index("nightwear") < safety.index("iron")


def test_what_is_cut_short_cannot_be_had_in_words(capsys):
    short, whole = (said(capsys, "check", "velvet", "--for", "buttonholes", *more)[1] for more in ((), ("--why",)))
    assert "more with --why" in short and "with --json" not in short
    assert "more with --why" not in whole


def test_a_remedy_names_its_tool_twice(knowledge):
    for remedy in check("velvet", ["patch pocket", "topstitching", "buttonholes"], deciding=True, knowledge=knowledge).remedies:
        for tool in remedy.missing:
            assert remedy.do.lower().count(tool.lower()) == 1


@pytest.mark.parametrize("cloth", ["velvet", "acetate velvet", "moire taffeta", "oilcloth"])
def test_a_sheet_without_steam_says_to_steam(knowledge, cloth):
    answer = press(cloth, ["rouleau loops", "unpressed pleats"], knowledge=knowledge)
    assert answer.steam == "no"
    told = [*answer.how, *(f.do for f in answer.findings if f.kind == "press")]
    assert [t for t in told if re.search(r"\b(and|then with|,) steam\b", t)] == []


@pytest.mark.parametrize(("word", "first"), [
    ("drape coefficient", "drape  (properties)"), ("fraying", "fray  (properties)"), ("easing", "ease  (properties)"),
    ("ISO 3758", "iso-3758  (sources)"), ("hem waves", "hem-waves  (symptoms)"),
])  # fmt: skip
def test_a_name_that_screens_print_cannot_be_explained(capsys, word, first):
    code, out, _ = said(capsys, "explain", word)
    assert code == 0 and out.startswith(first)


def test_everything_that_the_reasoning_names_cannot_be_explained(knowledge, capsys):
    from advisor.cli.explain import find

    answer = check("wool flannel 280 gsm", ["pencil skirt", "invisible zip"], why=True, knowledge=knowledge)
    names = {f.id for f in answer.findings} | {n.rule for n in answer.why.nearly} | {c.name for c in answer.why.curves}
    names |= {c.feature for c in answer.why.curves} | {knowledge.properties[p].name for p in answer.cloth.properties}
    for name in names:
        assert find(name, knowledge)


def test_curves_and_pairs_are_printed_as_python_writes_them(capsys):
    out = said(capsys, "explain", "covered buttons")[1] + said(capsys, "explain", "viscose challis")[1]
    assert "(0" not in out and "[(" not in out and ".0," not in out
    assert "possible: 8 to 50" in out and "fibres: viscose 100 %" in out


@pytest.mark.parametrize(("arguments", "near"), [
    (["check", "cotton lawn", "--for", "flounce", "--if", "wieght 140"], "weight 140"), (["check", "cotton lawn", "--for", "flounce", "--care", "boil"], "dry clean, dry flat"),
    (["pick", BLOUSE, "--cloth", "lawn", "--no-stash", "--view", "Q"], "nearest: A"), (["pick", "knowledge/makes/summer-wrap-blous.yaml"], "summer-wrap-blouse.yaml"),
    (["pick", "knowledge/makes"], "is a folder"), (["pick", BLOUSE, "--no-stash", "--cloth", "qwertz"], "no cloth that could be read"),
    (["swatch", "weight", "--mass-g", "9", "--length-cm", "30"], "advisor swatch weight-scrap"), (["swatch", "drape-fall", "--reading", "limp"], "1 clings to the tin"),
    (["list", "rules", "blorf"], "no rules with 'blorf'"), (["explain", ""], "advisor explain"), (["explain", "press"], "advisor press --help"),
], ids=" ".join)  # fmt: skip
def test_a_refusal_does_not_say_what_would_be_right(capsys, arguments, near):
    code, out, err = said(capsys, *arguments)
    assert (code, out) == (2, "")
    assert near in err and "Error" not in err and len(err.splitlines()) == 1


def test_the_nearest_stage_is_the_opposite_one(capsys):
    assert "nearest" not in said(capsys, "swatch", "drape-fall", "--reading", "limp")[2]


def test_a_number_of_times_is_turned_into_inches(capsys):
    out = said(capsys, "need", "pleats", "--finished", "72", "--pleat", "3", "--units", "imperial")[1]
    assert "24 pleats of 2 times 3 in = 216" in " ".join(out.split())


def test_a_span_mixes_yards_and_inches(capsys):
    first = said(capsys, "need", "bias", "--strip", "4cm", "--length", "6m", "--cloth", "cotton lawn 140 cm wide")[1].splitlines()[0]
    assert first == "BUY 0.3 m (0.2 to 0.3 m), or 3/8 yd (1/4 to 3/8 yd)"


@pytest.mark.parametrize("question", [
    ("buttons", "--count", "9", "--diameter", "12 mm"), ("gathers", "--finished", "70", "--fullness", "2"), ("thread", "--seam", "3 m", "--stitch", "overlock-4"), ("zip", "--opening", "20"),
], ids=" ".join)  # fmt: skip
def test_the_answer_of_need_is_not_the_first_line(capsys, question):
    first = said(capsys, "need", *question)[1].splitlines()[0]
    assert re.match(r"[A-Z ,]+: [\d.]+ (mm|cm|m)\b", first)


def test_grams_slipped_are_left_out(knowledge):
    assert check("cotton lawn 75 gms", ["flounce"], knowledge=knowledge).cloth.read_as == "cotton lawn, 75 g/m²"


def test_a_layer_that_is_soaked_needs_no_pre_wash(capsys):
    out = said(capsys, "prewash", "cotton lawn", "--with", "interfacing=fusible interfacing")[1]
    assert "no pre-wash needed" not in out and "soak it" in out


def test_a_cloth_without_an_iron_is_told_its_heat(capsys):
    out = said(capsys, "press", "faux leather")[1]
    assert out.startswith("NO IRON") and "ISO 3758" not in out


@pytest.mark.parametrize("cloth", ["linen 185 gsm", "silk velvet", "polyester satin"])
def test_the_pressing_sheet_warns_of_other_heats_than_the_irons(knowledge, cloth):
    told = " ".join(f"{f.say} {f.do}" for f in press(cloth, knowledge=knowledge).findings if f.kind == "safety")
    assert "flame test" not in told and "hot knife" not in told and "burns skin" in told


@pytest.mark.parametrize("cloth", ["leather", "wool flannel", "acetate lining"])
def test_washes_are_foretold_for_what_stays_dry(capsys, cloth):
    out = said(capsys, "prewash", cloth)[1]
    assert "Still to come" not in out and "first wash" not in out


def test_a_heading_of_the_sewing_sheet_stands_twice(capsys):
    heads = [line for line in said(capsys, "sew", "stretch velvet", "--for", "leggings")[1].splitlines() if re.fullmatch(r"[A-Z][a-z ]+", line)]
    assert len(heads) == len(set(heads))


def test_the_cautions_of_cutting_and_burning_stand_before_the_stitching(capsys):
    out = said(capsys, "sew", "silk chiffon", "--for", "French seam")[1]
    assert out.index("\nAt the machine") < out.index("\nAbout what you asked") < out.index("\nSafety")


def test_ideas_for_a_child_are_those_for_anybody(knowledge):
    from advisor.decide.ideas import ideas_for

    grown, child = (ideas_for("linen 185 gsm", knowledge, who) for who in ((), ("child",)))
    scores = [{row.feature: row.score.expected for row in answer.garments} for answer in (grown, child)]
    assert scores[1]["dressing-gown"] < scores[0]["dressing-gown"]


def test_a_figure_of_a_home_test_pretends_to_more_than_it_knows(capsys):
    assert "bending rigidity: 31.8 ± 5.7" in said(capsys, "swatch", "bending-strip", "--overhang-mm", "60", "--gsm", "120")[1]


@pytest.mark.parametrize("arguments", [("compare", "coton laun", "viscose challis", "--for", "flounce"), ("pick", BLOUSE, "--no-stash", "--cloth", "coton laun")], ids=" ".join)
def test_a_word_that_was_not_understood_is_passed_over_in_silence(capsys, arguments):
    assert "Not understood, and left out: laun." in said(capsys, *arguments)[1]
