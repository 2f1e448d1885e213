"""Faults of every kind met by the commands themselves: killed, crowded, out of room, damaged, forbidden."""

from __future__ import annotations

import contextlib
import io
import os
import random
import shutil
import sqlite3
import stat
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
from killing import killed, python

from advisor.cli import run as command
from advisor.errors import Unclear
from advisor.log import keeping
from advisor.log.done import Done, Observation, Snapshot
from advisor.stash import backup, pieces, store
from advisor.stash.pieces import Piece
from advisor.wardrobe import keep
from advisor.wardrobe.garments import Garment

KNOWN = Snapshot({"weight": (100.0, 120.0)}, ("plain-weave",))


def fill(path, count=3):
    """A stash with pieces, a log and a wardrobe."""
    with store.changing(path, make=True) as db:
        for i in range(count):
            store.add(db, Piece(f"piece {i}", "blue linen", 140.0, (3.0, 1.2), notes=("a",)))
        keeping.add(db, Done("coat", "2025-01-01", "linen", KNOWN, "piece 0", ("flounce",), 1.0, (Observation("frayed 4 of 5"),)))
        keep.add(db, "garment", Garment("navy coat", "coat", ("winter",), "navy", 1, "2025-01-01"))
        keep.add(db, "wish", Garment("red coat", "coat", (), "red", 1, "2025-01-01"))


def whole(path):
    """All that the file holds."""
    with store.reading(path) as db:
        return store.pieces(db), keeping.everything(db), keep.garments(db, "garment"), keep.garments(db, "wish")


LOGS = """
import sys
from pathlib import Path
from advisor.log import keeping
from advisor.log.done import Done, Observation, Snapshot
from advisor.stash import pieces, store
path = Path(sys.argv[1])
print("ready", flush=True)
for i in range(100000):
    with store.changing(path) as db:
        keeping.add(db, Done(str(i), "2025-01-01", "linen", Snapshot({}), "cloth", (), 0.001, (Observation("a"), Observation("b"))))
        store.replace_piece(db, "cloth", pieces.cut(store.find(db, "cloth"), 0.001, day="2025-01-01", make=str(i)))
    print(i, flush=True)
"""


@pytest.mark.skipif(os.name != "posix", reason="kill -9")
def test_kill_9_while_a_make_is_written_down_keeps_entry_and_cut_together(tmp_path, rounds):
    dice = random.Random(3)
    for turn in range(rounds):
        path = tmp_path / f"{turn}.db"
        with store.changing(path, make=True) as db:
            store.add(db, Piece("cloth", "linen", lengths_m=(500.0,)))
        told = killed(LOGS, path, after=dice.uniform(0, 0.12), ready="ready\n")
        assert "Error" not in told
        with store.reading(path) as db:
            log, piece = keeping.everything(db), store.find(db, "cloth")
        count = len(told.split("\n")[1:-1])
        assert count <= len(log) <= count + 1
        assert sorted(d.make for d in log) == sorted(c.make for c in piece.cuts)
        assert all(len(d.observations) == 2 for d in log)
        shutil.rmtree(backup.folder_of(path), ignore_errors=True)
        path.unlink()


@pytest.mark.skipif(os.name != "posix", reason="kill -9")
def test_kill_9_while_a_stash_of_the_first_form_is_brought_up_to_date_loses_nothing(tmp_path, rounds, monkeypatch):
    first = {1: store.MIGRATIONS[1]}
    made = tmp_path / "first.db"
    with monkeypatch.context() as patch:
        patch.setattr(store, "MIGRATIONS", first)
        with store.changing(made, make=True) as db:
            for i in range(300):
                store.add(db, Piece(f"piece {i}", "blue linen", 140.0, (3.0,), notes=("a", "b")))
            before = store.pieces(db)
    opens = "import sys\nfrom pathlib import Path\nfrom advisor.stash import store\nprint('ready', flush=True)\nwith store.changing(Path(sys.argv[1])) as db:\n    pass\nprint('done', flush=True)\n"
    dice, forms = random.Random(4), set()
    for turn in range(rounds // 2):
        path = tmp_path / str(turn) / "stash.db"
        path.parent.mkdir()
        shutil.copyfile(made, path)
        killed(opens, path, after=dice.uniform(0, 0.12), ready="ready\n")
        with sqlite3.connect(path) as db:
            forms.add(db.execute("PRAGMA user_version").fetchone()[0])
        db.close()
        with store.reading(path) as db:  # and is now brought up to date, whatever was left
            assert store.pieces(db) == before
            assert store.version_of(db, path) == store.version()
            assert keeping.everything(db) == []
        shutil.rmtree(path.parent)
    assert forms <= {1, store.version()}, "never a form in between"


CROWD = {
    "cut": """
for i in range(20):
    with store.changing(path) as db:
        store.replace_piece(db, "shared", pieces.cut(store.find(db, "shared"), 0.5, day="2025-01-01", make="cut"))
""",
    "log": """
from advisor.log import keeping
from advisor.log.done import Done, Snapshot
for i in range(20):
    with store.changing(path) as db:
        keeping.add(db, Done(f"make {i}", "2025", "linen", Snapshot({}), "shared", (), 0.5))
        store.replace_piece(db, "shared", pieces.cut(store.find(db, "shared"), 0.5, day="2025-01-01", make="log"))
""",
    "import": """
from advisor.stash import importing
from advisor.stash.pieces import Understood
for i in range(5):
    file = path.with_name(f"list{i}.csv")
    file.write_text("name,description,length\\n" + "".join(f"cloth {i} {j},linen,2 m\\n" for j in range(40)))
    table = importing.read_table(file)
    rows, refused = importing.rows_of(table, importing.propose(table), lambda d, t: Understood())
    importing.take_in(path, rows, refused)
""",
    "wear": """
from advisor.wardrobe import keep
from advisor.wardrobe.garments import Garment
for i in range(20):
    with store.changing(path) as db:
        keep.add(db, "garment", Garment(f"coat {i}", "coat", (), "", 1, "2025-01-01"))
""",
}  # fmt: skip
START = "import sys\nfrom pathlib import Path\nfrom advisor.stash import pieces, store\npath = Path(sys.argv[1])\n"


def test_four_programs_that_write_at_once_lose_nothing(stash):
    with store.changing(stash, make=True) as db:
        store.add(db, Piece("shared", "linen", lengths_m=(100.0,)))
    writers = {name: python(START + code, stash, stderr=subprocess.PIPE) for name, code in CROWD.items()}
    assert {name: writer.communicate(timeout=120)[1] for name, writer in writers.items()} == dict.fromkeys(CROWD, "")
    held, log, worn, _ = whole(stash)
    shared = next(p for p in held if p.name == "shared")
    assert (len(held), len(log), len(worn)) == (201, 20, 20)
    assert sorted(c.make for c in shared.cuts) == ["cut"] * 20 + ["log"] * 20
    assert shared.left_m == 80.0


@pytest.fixture
def small_disk(tmp_path):
    """A disk of 500 kB."""
    disk = tmp_path / "disk"
    disk.mkdir()
    if not sys.platform.startswith("linux") or subprocess.run(["mount", "-t", "tmpfs", "-o", "size=500k", "tmpfs", disk], capture_output=True).returncode:
        pytest.skip("mounting is not allowed here")
    yield disk
    subprocess.run(["umount", disk], check=False)


def told(*words):
    """(exit code, standard output, standard error) of a command."""
    out, fault = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(fault):
        code = command(list(words))
    return code, out.getvalue(), fault.getvalue()


def test_on_a_full_disk_every_command_that_writes_is_refused_in_a_line_and_changes_nothing(small_disk, tmp_path, knowledge):
    path = small_disk / "stash.db"
    fill(path)
    before = whole(path)
    (tmp_path / "list.csv").write_text("name,description,length\n" + "".join(f"cloth {i},linen,2 m\n" for i in range(3000)), encoding="utf-8")
    filler = os.open(small_disk / "filler", os.O_WRONLY | os.O_CREAT)
    with contextlib.suppress(OSError):
        while os.write(filler, b"x" * 4096):
            pass
    os.close(filler)
    for words in (
        ["stash", "import", str(tmp_path / "list.csv"), "--yes"], ["stash", "use", "piece 0", "1 m"], ["stash", "note", "piece 0", "n" * 900],
        ["log", "add", "hat", "--piece", "piece 0", "--used", "1 m", "--saw", "frayed 4 of 5"], ["wardrobe", "add", "green skirt"],
        ["stash", "backup"], ["stash", "export", "--to", str(small_disk / "out.csv")],
    ):  # fmt: skip
        code, out, fault = told(*words, "--stash", str(path))
        if code == 0:  # what fits into the last page may be kept
            assert words[:2] not in (["stash", "import"], ["stash", "backup"])
            continue
        assert (code, out) == (2, ""), words
        assert fault.count("\n") == 1, fault
    (small_disk / "filler").unlink()
    after = whole(path)
    assert len(after[0]) == len(before[0])
    with store.changing(path) as db:
        assert db.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
    assert not (small_disk / "out.csv").exists() or (small_disk / "out.csv").stat().st_size > 0


READERS = [["stash", "list", "--all"], ["stash", "show", "piece 1"], ["log", "list"], ["wardrobe", "list"], ["stash", "export", "--json"]]


def test_a_file_with_bytes_turned_is_read_or_refused_in_one_line_and_never_a_crash(tmp_path, knowledge, rounds):
    """Whatever a bad disk does to the file: an answer, or one line that says what to do."""
    made = tmp_path / "made.db"
    fill(made, 40)
    sound = made.read_bytes()
    dice, refused = random.Random(5), 0
    for turn in range(rounds * 4):
        path = tmp_path / "stash.db"
        for tail in ("-wal", "-shm"):
            Path(f"{path}{tail}").unlink(missing_ok=True)
        harmed = bytearray(sound)
        for _ in range(dice.choice([1, 1, 4, 30])):
            at = dice.randrange(100 if turn % 5 == 0 else len(harmed)) % len(harmed)
            harmed[at] = dice.randrange(256)
        path.write_bytes(harmed)
        words = READERS[turn % len(READERS)]
        code, out, fault = told(*words, "--stash", str(path))
        assert code in (0, 2), (turn, words)
        if code == 2:
            refused += 1
            assert out == "", (turn, words)
            assert fault.count("\n") == 1, (turn, fault)
            assert "Traceback" not in fault
        path.unlink(missing_ok=True)
    assert refused > rounds // 4


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="no such users here")
def test_in_a_read_only_folder_log_and_wardrobe_are_read_and_changes_are_refused():
    folder = Path(tempfile.mkdtemp())
    try:
        fill(folder / "stash.db")
        (folder / "stash.db").chmod(0o444)
        folder.chmod(0o555)
        code = START + """
import os
from advisor.log import keeping
from advisor.wardrobe import keep
from advisor.log.done import Done, Snapshot
from advisor.stash import backup
from advisor.wardrobe.garments import Garment
if os.geteuid() == 0:
    os.setgid(65534)
    os.setuid(65534)
with store.reading(path) as db:
    print(len(keeping.everything(db)), len(keep.garments(db, "garment")))
for change in (
    lambda db: keeping.add(db, Done("x", "2025", "linen", Snapshot({}))),
    lambda db: keep.add(db, "garment", Garment("x", "coat", (), "", 1, "")),
):
    try:
        with store.changing(path) as db:
            change(db)
        print("changed")
    except store.StashFault as error:
        print(error.line())
"""
        child = python(code, folder / "stash.db", stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        out, fault = child.communicate(timeout=60)
        assert fault == ""
        count, *lines = out.splitlines()
        assert count == "1 1"
        assert len(lines) == 2
        assert all("cannot be written" in line and "nothing was changed" in line for line in lines)
    finally:
        folder.chmod(stat.S_IRWXU)
        shutil.rmtree(folder)


def test_a_cut_that_is_too_long_negative_or_of_an_unknown_piece_leaves_log_and_piece_alone(stash, knowledge):
    fill(stash)
    before = whole(stash)
    for words in (
        ["log", "add", "hat", "--piece", "piece 0", "--used", "99 m"], ["log", "add", "hat", "--piece", "piece 0", "--used", "-1 m"],
        ["log", "add", "hat", "--piece", "peice 0", "--used", "1 m"], ["stash", "use", "piece 0", "99 m"], ["stash", "use", "piece 0", "0 m"],
        ["stash", "use", "peice 0", "1 m"],
    ):  # fmt: skip
        code, out, fault = told(*words, "--stash", str(stash))
        assert (code, out, fault.count("\n")) == (2, "", 1), (words, fault)
    assert whole(stash) == before
    assert isinstance(pieces.nearest_names("peice 0", ["piece 0"]), str)
    with pytest.raises(Unclear, match="piece 0"), store.reading(stash) as db:
        store.find(db, "peice 0")
