"""A whole list: what is read, what is refused, that an interrupted sift ends as an uninterrupted one, and how it is told."""

from __future__ import annotations

import csv
import json
import os
import signal
import subprocess
import sys
import time
from itertools import islice
from pathlib import Path

import pytest

pytest.importorskip("numpy", reason="the extra 'lists' is not installed")

from merchants import merchants

from advisor import check
from advisor.asks import read_ask
from advisor.cli import run
from advisor.errors import Unclear
from advisor.listing.descriptions import open_list
from advisor.sifting.run import sift
from advisor.sifting.sieve import Question

SHOP = """Ferndale Cloths, autumn,,,,
Ref,Fabric,Composition,Weight (gsm),Width (in),Price
A12,Cotton lawn floral print,100% cotton,75,54,£12
A13,Viscose challis,100% viscose,,58/60,9.50
A14,Wool melton navy,80% wool 20% polyamide,480,60,£24
A15,qqqq zzzz,,,,
A16,Linen,100% linen,185,54,
A17,,,,,
A18,Polyester satin,150% polyester,90,,
A19,"=cmd()",silk,19 momme,45,
A20,Cotton lawn floral print,100% cotton,75,54,£12
"""


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    path = tmp_path / "shop.csv"
    path.write_text(SHOP, encoding="utf-8")
    return path


@pytest.fixture
def question(knowledge) -> Question:
    return Question((read_ask("covered buttons", knowledge), read_ask("flounce", knowledge)))


def rows(path: Path) -> list[dict[str, str]]:
    with path.open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def test_a_row_is_described_by_the_columns_that_describe_cloth(shop):
    found = dict(open_list(shop).rows())
    assert found[3] == "Cotton lawn floral print, 100% cotton, 75 gsm, 137.2 cm wide"
    assert found[4] == "Viscose challis, 100% viscose"  # a width that cannot be read is no reason to refuse a cloth
    assert isinstance(found[8], Unclear)


def test_every_row_is_answered_as_a_check_of_its_words_answers(shop, tmp_path, knowledge, question):
    out = tmp_path / "answers.csv"
    answer = sift(shop, question, knowledge, out=out)
    found = rows(out)
    assert [r["row"] for r in found] == ["3", "4", "5", "7", "10", "11"]
    for row in found:
        alone = check(row["cloth"].lstrip("'"), ["covered buttons", "flounce"], knowledge=knowledge)
        assert row["verdict"] == alone.verdict
        assert float(row["score"]) == alone.score.expected
        assert (float(row["score_low"]), float(row["score_high"])) == (alone.score.low, alone.score.high)
        assert row["limited_by"] == alone.limited_by
        assert not row["caution"] or row["caution"] in {f.id for f in alone.findings}
    unread = rows(tmp_path / "answers.unread.csv")
    assert [(r["row"], r["cloth"]) for r in unread] == [("6", "qqqq zzzz"), ("8", ""), ("9", "Polyester satin, 150% polyester, 90 gsm")]
    assert (answer.rows, answer.unread, sum(answer.verdicts.values())) == (6, 3, 6)
    assert not list(tmp_path.glob("*.part")) + list(tmp_path.glob("*.journal"))


def test_a_cloth_that_could_be_a_formula_is_written_as_words(shop, tmp_path, knowledge, question):
    sift(shop, question, knowledge, out=tmp_path / "answers.csv")
    assert next(r for r in rows(tmp_path / "answers.csv") if r["row"] == "10")["cloth"].startswith("'=cmd()")


def test_the_best_are_each_told_once_with_the_number_of_their_rows(shop, knowledge, question):
    answer = sift(shop, question, knowledge, top=3)
    scores = [r.score.expected for r in answer.ranking]
    assert scores == sorted(scores, reverse=True)
    assert len(answer.ranking) == 3
    assert [r.times for r in answer.ranking if r.row == 3] == [2]


def test_a_make_counts_with_its_envelope(shop, tmp_path, knowledge, root):
    from advisor.makes import Envelope, asks_of, context_of, read_make
    from advisor.picking import pick_for

    make = read_make(root / "knowledge/makes/summer-wrap-blouse.yaml")
    make.envelope = Envelope(woven_or_knit="knit")
    question = Question(tuple(asks_of(make, knowledge)), tuple(context_of(make, knowledge)), make)
    answer = sift(shop, question, knowledge)
    picked = {r.cloth: r for r in pick_for(make, [r.cloth for r in answer.ranking], knowledge).ranking}
    for row in answer.ranking:
        assert (row.verdict, row.score.expected) == (picked[row.cloth].verdict, picked[row.cloth].score.expected)
        assert bool(row.against) == bool(picked[row.cloth].notes)


@pytest.mark.parametrize("ending", [".xlsx", ".parquet", ".csv", ".tsv"])
def test_every_kind_of_list_gives_the_same_answers(ending, shop, tmp_path, knowledge, question):
    wanted = [(r.cloth, r.score.expected, r.row - 1) for r in sift(shop, question, knowledge).ranking]
    cells = list(csv.reader(SHOP.splitlines()))[1:]
    path = tmp_path / f"list{ending}"
    if ending == ".xlsx":
        sys.path.insert(0, str(Path(__file__).parent.parent / "stash"))
        from spreadsheets import xlsx

        xlsx(path, [[float(c) if c.isdigit() else c for c in row] for row in cells])
    elif ending == ".parquet":
        polars = pytest.importorskip("polars")
        polars.DataFrame({h: [r[i] or None for r in cells[1:]] for i, h in enumerate(cells[0])}).write_parquet(path)
    else:
        with path.open("w", newline="", encoding="utf-16" if ending == ".tsv" else "utf-8") as file:
            csv.writer(file, delimiter="\t" if ending == ".tsv" else ";").writerows(cells)
    assert [(r.cloth, r.score.expected, r.row) for r in sift(path, question, knowledge).ranking] == wanted


def test_bytes_that_are_no_text_cost_their_row_only(tmp_path, knowledge, question):
    path = tmp_path / "list.csv"
    good = b"cotton lawn,75\n" * 80_000
    path.write_bytes(b"Fabric,gsm\n" + good + b"l\xffnen,100\n" + b"linen,185\n")
    answer = sift(path, question, knowledge)
    assert (answer.rows, answer.unread) == (80_001, 1)
    assert answer.unread_rows[0].row == 80_002


def test_a_list_without_headings_is_read_whole_and_that_is_said(tmp_path):
    path = tmp_path / "list.csv"
    path.write_text("linen,185 gsm\nwool melton,\n", encoding="utf-8")
    listed = open_list(path)
    assert "no headings" in listed.remarks[0]
    assert list(listed.rows()) == [(1, "linen, 185 gsm"), (2, "wool melton")]


# ---- stopped and taken up again ----


def generated(path: Path, knowledge, count: int) -> Path:
    """A list whose every fiftieth row cannot be read."""
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(["Description"])
        for place, text in enumerate(islice(merchants(knowledge, 5), count)):
            writer.writerow(["qqqq zzzz" if place % 50 == 49 else text])
    return path


def test_a_sift_that_is_killed_goes_on_and_ends_as_if_it_had_not_been(tmp_path, knowledge, root, full):
    """Killed outright while it works, again and again, each time a little later."""
    path = generated(tmp_path / "list.csv", knowledge, 60_000 if full else 16_000)
    words = [sys.executable, "-m", "advisor", "sift", str(path), "--for", "flounce", "--json", "--out"]
    plain, killed = tmp_path / "plain.csv", tmp_path / "killed.csv"
    environment = {**os.environ, "PYTHONPATH": str(root)}
    whole = subprocess.run([*words, str(plain)], env=environment, capture_output=True, check=True)
    kills, safe = 0, -1
    while True:
        process = subprocess.Popen([*words, str(killed)], env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        journal = tmp_path / "killed.csv.journal"
        while process.poll() is None and kills < (8 if full else 2):
            row = json.loads(journal.read_text())["row"] if journal.exists() else -1
            if row > max(safe, 0):  # it has come further than at the last kill
                safe = row
                time.sleep(0.05 * kills)
                process.send_signal(signal.SIGKILL)
                kills += 1
                break
            time.sleep(0.005)
        told, fault = process.communicate()
        if process.returncode == 0:
            break
        assert process.returncode == -signal.SIGKILL, fault
        assert not killed.exists()
    assert kills
    assert killed.read_bytes() == plain.read_bytes()
    assert (tmp_path / "killed.unread.csv").read_bytes() == (tmp_path / "plain.unread.csv").read_bytes()
    first, second = json.loads(whole.stdout), json.loads(told)
    assert second["resumed"] >= safe > 0
    for key in ("rows", "verdicts", "ranking", "unread", "unread_rows"):
        assert first[key] == second[key], key


def test_what_stands_beyond_the_journal_is_made_anew(tmp_path, knowledge, question, monkeypatch):
    """A torn line at the end of the part, as after a pulled plug."""
    from advisor.sifting import output

    monkeypatch.setattr(output, "SAFE_EVERY", 0.0)
    path, plain, torn = generated(tmp_path / "list.csv", knowledge, 9_000), tmp_path / "plain.csv", tmp_path / "torn.csv"
    sift(path, question, knowledge, out=plain)

    def stop(done: int, total: int) -> None:
        if done > 5_000:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        sift(path, question, knowledge, out=torn, progress=stop)
    with (tmp_path / "torn.csv.part").open("ab") as file:
        file.write(b'6001,"a torn li')
    answer = sift(path, question, knowledge, out=torn)
    assert answer.resumed > 4_000
    assert torn.read_bytes() == plain.read_bytes()


def test_what_was_begun_for_another_question_is_not_gone_on_with(tmp_path, knowledge, question):
    path, out = generated(tmp_path / "list.csv", knowledge, 5_000), tmp_path / "answers.csv"

    def stop(done: int, total: int) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        sift(path, question, knowledge, out=out, progress=stop)
    other = Question((read_ask("pencil skirt", knowledge),))
    with pytest.raises(Unclear, match="begun and not finished"):
        sift(path, other, knowledge, out=out)
    assert sift(path, other, knowledge, out=out, force=True).resumed == 0
    with pytest.raises(Unclear, match="is there already"):
        sift(path, other, knowledge, out=out)


# ---- the command ----


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["no-such.csv", "--for", "flounce"], "a file that exists"),
        (["shop.csv"], "without a feature"),
        (["shop.csv", "--for", "flounce", "--out", "x.pdf"], "ends in .csv"),
        (["shop.csv", "--for", "flounce", "--out", "nowhere/x.csv"], "a folder that exists"),
        (["shop.csv", "--for", "flounce", "--map", "Fabrik=description"], "Fabric"),
        (["shop.csv", "--for", "qwertzu"], "feature"),
        (["empty.csv", "--for", "flounce"], "at least one row"),
        (["broken.xlsx", "--for", "flounce"], "sound XLSX"),
        (["broken.parquet", "--for", "flounce"], "a sound one"),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(words, says, shop, monkeypatch, capsys):
    monkeypatch.chdir(shop.parent)
    for name in ("empty.csv", "broken.xlsx", "broken.parquet"):
        (shop.parent / name).write_bytes(b"" if name == "empty.csv" else b"PK nonsense")
    assert run(["sift", *words]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.count("\n") == 1
    assert says in told.err


def test_without_numpy_the_command_says_what_to_install(shop, monkeypatch, capsys):
    monkeypatch.setitem(sys.modules, "numpy", None)
    assert run(["sift", str(shop), "--for", "flounce"]) == 2
    assert "fabric-advisor[lists]" in capsys.readouterr().err


def test_the_answer_fits_the_screen_and_names_what_was_not_read(shop, tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("COLUMNS", "80")
    assert run(["sift", str(shop), "--for", "covered buttons", "--for", "flounce", "--out", str(tmp_path / "a.csv")]) == 0
    told = capsys.readouterr().out
    assert "6 cloths for covered buttons, flounce" in told
    assert "row 3 and 1 more like it" in " ".join(told.split())
    assert "3 rows could not be read" in told
    assert all(len(line) <= 80 for line in told.splitlines() if str(tmp_path) not in line)


@pytest.mark.parametrize("name", ["mine.csv", "mine.unread.csv"])
def test_no_force_writes_the_answers_over_the_list_itself(name, tmp_path, knowledge, question):
    path = tmp_path / name
    path.write_text(SHOP, encoding="utf-8")
    with pytest.raises(Unclear, match="over the list itself"):
        sift(path, question, knowledge, out=tmp_path / "mine.csv", force=True)
    assert path.read_text(encoding="utf-8") == SHOP
    assert os.listdir(tmp_path) == [name]
