"""`advisor need` on the command line: one clear line for bad input, metric JSON, imperial words."""

from __future__ import annotations

import json

import pytest

from advisor.cli import run

BAD = [
    "width --length 0 --from 140", "width --length -2 --from 140", "width --length 9999 --from 140", "width --length abc --from 140",
    "width --length 2", "width --from 140", "width --length 2 --from 140 --width 60 --widest 70", "width --length 2 --from 140 --width 3",
    "width --length 2 --from 140 --shrink 40", "width --length 2 --from 140 --shrink x", "width --length 2 --from 140 --shrink-across 31",
    "width --length 2 --from 140 --width 100 --shrink-across 20 --widest 90", "width --length 2 --from 140 --repeat 10 --pieces 0",
    "width --length 2 --from 140 --spare 80", "width --length 2 --from 140 --units furlongs", "width --length 2 --from 140 --waist 70",
    "gathers --finished 100 --fullness 0.5", "gathers --finished 0", "gathers --finished 100 --fullness 1e400", "gathers --finished 100 --style odd",
    "flounce --seam 100 --depth 10 --fullness 0.9", "flounce --seam 100 --depth 10 --fullness 1", "flounce --seam 100 --depth 10",
    "flounce --seam 100 --depth 10 --fullness 2 --rings 2", "flounce --depth 10 --rings 1", "circle --waist 72", "circle --waist 0 --length 60",
    "circle --waist 72 --length 60 --part some", "pleats --finished 50", "pleats --finished 50 --pleat 2 --kind odd", "pleats --finished 50 --pleat 2 --count 1.5",
    "buttons", "buttons --diameter 0", "buttons --diameter 24L --kind odd", "loops --diameter 900", "bias", "bias --finished 6 --style odd",
    "bias --strip 40 --square 3", "thread", "thread --seam 5 --stitch odd", "thread --seam 5 --stitch 301 --stitch 304", "elastic --body 70 --place ear",
    "elastic", "zip", "zip --opening 0", "frobnicate", "make", "make nowhere.yaml --cloth poplin", "pleats --kind sunray --waist 72 --length 60 --fullness 0.4",
]  # fmt: skip


def told(capsys, line):
    code = run(["need", *line.split()])
    said = capsys.readouterr()
    return code, said.out, said.err


@pytest.mark.parametrize("line", BAD)
def test_bad_input_is_answered_or_refused_in_many_words(line, capsys):
    code, out, err = told(capsys, line)
    assert (code, out) == (2, "")
    assert err.count("\n") == 1
    assert "Traceback" not in err


GOOD = {
    "width": "width --length 2 --from 90 --to 115 --have 1.5", "bias": "bias --finished 6 --length 5 --width 140",
    "flounce": "flounce --seam 150 --depth 12 --fullness 2 --width 140", "circle": "circle --waist 72 --length 60 --width 150",
    "gathers": "gathers --finished 180 --depth 12 --width 110", "pleats": "pleats --finished 50 --pleat 2.5 --drop 60 --width 140",
    "buttons": "buttons --diameter 24L --count 8 --width 140", "loops": "loops --diameter 11 --count 10 --width 140",
    "thread": "thread --seam 12", "elastic": "elastic --body 72", "zip": "zip --opening 21",
}  # fmt: skip
CLOTH = set(GOOD) - {"thread", "elastic", "zip"}


@pytest.mark.parametrize("part", GOOD)
def test_json_leaves_its_form(part, capsys):
    code, out, err = told(capsys, GOOD[part] + " --json")
    got = json.loads(out)
    assert code == 0
    assert not err
    assert got["question"] == part
    assert got[part]
    assert got["because"]
    assert all(got[other] is None for other in set(GOOD) - {part, "piece"})
    if part in CLOTH:
        assert 0 < got["buy_m"]["low"] <= got["buy_m"]["expected"] <= got["buy_m"]["high"]
    else:
        assert got["buy_m"] is None


@pytest.mark.parametrize("part", GOOD)
def test_json_depends_on_the_units_of_the_words(part, capsys):
    """Explicit units in, metric out, whatever is printed first; only the step of rounding differs."""
    line = GOOD[part].replace(
        "--length 2 --from 90 --to 115 --have 1.5", "--length 2m --from 90cm --to 115cm --have 1.5m"
    )
    line = line.replace("--finished 6 --length 5 ", "--finished 6mm --length 5m ")
    words, fixed = line.split(), []
    for before, word in zip(["", *words], words, strict=False):
        small = before in ("--diameter",) and not word.endswith("L")
        bare = word.replace(".", "").isdigit() and before not in ("--fullness", "--count")
        fixed.append(word + ("mm" if small else "m" if part == "thread" else "cm") if bare else word)
    metric, imperial = (
        json.loads(told(capsys, " ".join(fixed) + f" --json --units {u}")[1]) for u in ("metric", "imperial")
    )
    assert metric[part] == imperial[part]


def test_two_yards_of_36_in_are_not_one_and_five_eighths_of_45(capsys):
    out = told(capsys, "width --length 2 --from 36 --to 45 --units imperial")[1]
    assert out.startswith("BUY 1 5/8 yd")
    assert "1.49 m" in out
    assert " cm" not in out


@pytest.mark.parametrize("part", GOOD)
@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_printed_lines_run_over_80_columns(part, units, capsys, monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    code, out, _ = told(
        capsys,
        GOOD[part].replace("--length 2 --from 90", "--length 2m --from 90cm")
        + (f" --units {units}" if part == "width" else ""),
    )
    assert code == 0
    assert max(map(len, out.splitlines())) <= 80


def test_a_shipped_make_is_not_answered(root, capsys):
    code = run(
        [
            "need",
            "make",
            str(root / "knowledge/makes/winter-work-jacket.yaml"),
            "--cloth",
            "wool flannel, 300 gsm",
            "--json",
        ]
    )
    got = json.loads(capsys.readouterr().out)
    assert code == 0
    assert set(got["make"]) == {"main", "lining"}
    assert got["buttons"]["count"] == 4
    assert got["make"]["main"]["buy_m"] == got["buy_m"]
