"""The stash's file: nothing lost, nothing half-written, one clear line for every fault."""

from __future__ import annotations

import os
import random
import shutil
import sqlite3
import stat
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import pytest
from killing import killed

from advisor.errors import Unclear
from advisor.stash import backup, pieces, store
from advisor.stash.pieces import Piece, Reserved
from advisor.stash.store import StashFault

ROOT = Path(__file__).resolve().parents[2]


def fill(path, count=3, name="piece"):
    """A stash with so many pieces, added in one transaction."""
    with store.changing(path, make=True) as db:
        for i in range(count):
            store.add(
                db,
                Piece(
                    f"{name} {i}", "blue linen", 140.0, (3.0, 1.2), notes=("a", "b"), reserved=(Reserved("coat", 1.0),)
                ),
            )


def all_of(path):
    with store.reading(path) as db:
        return store.pieces(db)


def run(code, *arguments, **options):
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    return subprocess.run(
        [sys.executable, "-c", code, *map(str, arguments)],
        capture_output=True,
        text=True,
        env=environment,
        timeout=120,
        **options,
    )


def fault_of(path):
    with pytest.raises(StashFault) as caught, store.reading(path) as db:
        store.pieces(db)
    line = caught.value.line()
    assert "\n" not in line
    assert line.count(":") >= 1
    return line


def test_what_is_put_in_comes_out(stash):
    piece = pieces.checked(
        Piece("Émile's  linen", "blue linen", 114.3, (1.8288, 0.4), "2024-05", "box 3", "12.50", "GBP", "m", True, 5.0, 2.5,
              "drape 34 %", "/p.jpg", ("one", "two"), (Reserved("coat", 1.0),), (pieces.Cut("2024-06-01", 0.5, "hat"),), "2024-05-01")
    )  # fmt: skip
    with store.changing(stash, make=True) as db:
        store.add(db, piece)
    assert all_of(stash) == [piece]
    assert piece.name == "Émile's linen"


def test_a_change_that_fails_changes_nothing(stash):
    fill(stash)
    before = all_of(stash)

    def fail():
        with store.changing(stash) as db:
            store.remove(db, "piece 1")
            store.replace_piece(db, "piece 0", replace(before[0], lengths_m=(9.0,)))
            raise RuntimeError

    with pytest.raises(RuntimeError):
        fail()
    assert all_of(stash) == before


@pytest.mark.parametrize("metres", [-1.0, 0.0, 3.1, float("nan"), float("inf"), True])
def test_a_negative_or_too_long_cut_is_refused(stash, metres):
    fill(stash)
    with pytest.raises(Unclear):
        pieces.cut(all_of(stash)[0], metres, day="2025-01-01")


def test_a_cut_takes_the_shortest_length_that_will_do_and_leaves_the_remnant():
    piece = Piece("p", "linen", lengths_m=(3.0, 1.2, 2.0))
    assert pieces.cut(piece, 1.0, day="2025-01-01").lengths_m == (3.0, 0.2, 2.0)
    assert pieces.cut(piece, 1.2, day="2025-01-01").lengths_m == (3.0, 2.0)
    assert pieces.cut(piece, 1.0, day="2025-01-01", number=1).lengths_m == (2.0, 1.2, 2.0)


def test_a_cut_does_not_touch_what_is_reserved_for_another_make():
    piece = pieces.reserve(Piece("p", "linen", lengths_m=(3.0,)), "coat", 2.5)
    with pytest.raises(Unclear, match="coat"):
        pieces.cut(piece, 1.0, day="2025-01-01", make="hat")
    after = pieces.cut(piece, 1.0, day="2025-01-01", make="Coat")
    assert (after.left_m, after.reserved_m) == (2.0, 1.5)
    with pytest.raises(Unclear):
        pieces.reserve(after, "hat", 0.6)


def test_an_unknown_piece_is_refused_with_the_nearest_names(stash):
    fill(stash)
    with pytest.raises(Unclear, match="'piece 1'"), store.reading(stash) as db:
        store.find(db, "peice 1")


def test_two_writers_lose_nothing(stash):
    code = """
import sys
from pathlib import Path
from advisor.stash import store, pieces
path, who = Path(sys.argv[1]), sys.argv[2]
for i in range(25):
    with store.changing(path, make=True) as db:
        store.add(db, pieces.Piece(f"{who} {i}", "linen", lengths_m=(1.0,)))
        if "shared" not in store.names(db):
            store.add(db, pieces.Piece("shared", "linen", lengths_m=(100.0,)))
        store.replace_piece(db, "shared", pieces.cut(store.find(db, "shared"), 0.5, day="2025-01-01", make=who))
"""
    with ThreadPoolExecutor(2) as pool:
        done = list(pool.map(lambda who: run(code, stash, who), ("ann", "bea")))
    assert [d.stderr for d in done] == ["", ""]
    held = {p.name: p for p in all_of(stash)}
    assert len(held) == 51
    assert len(held["shared"].cuts) == 50
    assert held["shared"].left_m == 75.0


def test_a_program_that_holds_the_lock_is_named_after_the_wait(stash, monkeypatch):
    fill(stash)
    monkeypatch.setattr(store, "WAIT_S", 0.2)
    with store.changing(stash), pytest.raises(StashFault, match="another program"), store.changing(stash):
        pass


def test_a_reader_is_not_kept_waiting_by_a_writer(stash):
    fill(stash)
    with store.changing(stash) as db:
        store.remove(db, "piece 0")
        assert len(all_of(stash)) == 3
    assert len(all_of(stash)) == 2


USES = """
import sys
from pathlib import Path
from advisor.stash import store, pieces
path = Path(sys.argv[1])
for i in range(100000):
    with store.changing(path) as db:
        store.replace_piece(db, "cloth", pieces.cut(store.find(db, "cloth"), 0.001, day="2025-01-01", make=str(i)))
    print(i, flush=True)
"""


@pytest.mark.skipif(os.name != "posix", reason="kill -9")
def test_kill_9_while_cutting_loses_no_cut_that_was_told_and_halves_none(tmp_path, rounds):
    dice = random.Random(1)
    for turn in range(rounds):
        path = tmp_path / f"{turn}.db"
        with store.changing(path, make=True) as db:
            store.add(db, Piece("cloth", "linen", lengths_m=(500.0,)))
        told = killed(USES, path, after=dice.uniform(0, 0.12), ready="0\n")
        assert "Error" not in told
        piece = all_of(path)[0]
        count = len([line for line in told.split("\n")[:-1] if line])
        assert count <= len(piece.cuts) <= count + 1
        assert piece.left_m == pytest.approx(500 - 0.001 * len(piece.cuts), abs=1e-9)
        assert [c.make for c in piece.cuts] == [str(i) for i in range(len(piece.cuts))]


IMPORTS = """
import sys
from pathlib import Path
from advisor.stash import importing, store
from advisor.stash.pieces import Understood
path, file = Path(sys.argv[1]), Path(sys.argv[2])
table = importing.read_table(file)
columns = importing.propose(table)
rows, refused = importing.rows_of(table, columns, lambda d, t: Understood())
print("ready", flush=True)
done = importing.take_in(path, rows, refused)
print("done", len(done.added), flush=True)
"""


@pytest.mark.skipif(os.name != "posix", reason="kill -9")
def test_kill_9_in_the_middle_of_an_import_leaves_all_or_nothing(tmp_path, rounds):
    file = tmp_path / "list.csv"
    file.write_text("name,description,length\n" + "".join(f"cloth {i},linen,{i % 7 + 1} m\n" for i in range(1000)))
    dice, outcomes, spans = random.Random(2), set(), []
    for turn in range(rounds + 1):
        path = tmp_path / f"{turn}.db"
        fill(path, 1)
        if turn == 0:  # once to its end, to know how long it takes
            environment = {**os.environ, "PYTHONPATH": str(ROOT)}
            with subprocess.Popen(
                [sys.executable, "-c", IMPORTS, str(path), str(file)],
                stdout=subprocess.PIPE,
                text=True,
                env=environment,
            ) as child:
                assert child.stdout.readline() == "ready\n"
                start = time.monotonic()
                assert child.stdout.readline() == "done 1000\n"
                spans.append(time.monotonic() - start)
            continue
        told = killed(IMPORTS, path, file, after=dice.uniform(0, spans[0] * 1.1), ready="ready")
        held = all_of(path)
        assert len(held) in (1, 1001)
        assert len(held) == 1001 or "done" not in told
        outcomes.add(len(held))
        assert backup.backups_of(path) or len(held) == 1
        with store.changing(path) as db:
            assert db.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
            assert len(store.known_rows(db)) == len(held) - 1
    assert 1 in outcomes


def test_a_damaged_file_is_refused_in_one_line_that_names_the_backup(stash):
    fill(stash, 200)
    copy = backup.back_up(stash)
    whole = stash.read_bytes()
    for harm in (
        b"not a stash at all" * 400,
        whole[: len(whole) // 2],
        whole[:100],
        whole[:4096] + os.urandom(len(whole) - 4096),
        b"",
    ):
        stash.write_bytes(harm)
        line = fault_of(stash)
        assert str(copy) in line
        assert "restore" in line
        assert stash.read_bytes() == harm  # left as it was
        with pytest.raises(StashFault), store.changing(stash, make=True):
            pass


def test_a_damaged_file_is_mended_by_restore_and_kept(stash):
    fill(stash, 50)
    before = all_of(stash)
    backup.back_up(stash)
    stash.write_bytes(stash.read_bytes()[:5000])
    _, kept = backup.restore(stash)
    assert all_of(stash) == before
    assert kept is not None
    assert kept.stat().st_size == 5000


def test_restore_brings_back_what_was_and_keeps_what_is(stash):
    fill(stash)
    before = all_of(stash)
    copy = backup.back_up(stash)
    with store.changing(stash) as db:
        store.remove(db, "piece 0")
        store.add(db, Piece("new", "wool"))
    changed = all_of(stash)
    source, kept = backup.restore(stash, copy)
    assert (source, all_of(stash)) == (copy, before)
    backup.restore(stash, kept)
    assert all_of(stash) == changed


def test_restore_of_a_missing_stash_makes_it_again(stash, tmp_path):
    fill(stash)
    before, copy = all_of(stash), backup.back_up(stash, to=tmp_path / "copy.db")
    stash.unlink()
    assert backup.restore(stash, copy) == (copy, None)
    assert all_of(stash) == before


def test_a_bad_backup_is_refused_before_anything_changes(stash, tmp_path):
    fill(stash)
    before = stash.read_bytes()
    bad = tmp_path / "bad.db"
    for harm in (b"", b"x" * 5000, before[:5000]):
        bad.write_bytes(harm)
        with pytest.raises(Unclear):
            backup.restore(stash, bad)
        assert stash.read_bytes() == before


def test_another_programs_database_is_left_alone(stash):
    with sqlite3.connect(stash) as db:
        db.execute("CREATE TABLE t (a)")
    db.close()
    before = stash.read_bytes()
    assert "another program" in fault_of(stash)
    assert stash.read_bytes() == before


def test_a_newer_versions_file_is_left_alone(stash):
    fill(stash)
    with sqlite3.connect(stash) as db:
        db.execute(f"PRAGMA user_version = {store.version() + 1}")
    db.close()
    before = stash.read_bytes()
    assert "newer version" in fault_of(stash)
    with pytest.raises(StashFault, match="update"), store.changing(stash):
        pass
    assert stash.read_bytes() == before


def test_a_migration_is_made_once_after_a_backup_and_undone_when_it_fails(stash, monkeypatch):
    fill(stash)
    before = all_of(stash)
    now = store.version()
    monkeypatch.setattr(store, "MIGRATIONS", {**store.MIGRATIONS, now + 1: ("CREATE TABLE later (a)", "NONSENSE")})
    with pytest.raises(StashFault):
        all_of(stash)
    with sqlite3.connect(stash) as db:
        assert db.execute("PRAGMA user_version").fetchone()[0] == now
        assert not db.execute("SELECT 1 FROM sqlite_master WHERE name = 'later'").fetchone()
    db.close()
    monkeypatch.setattr(store, "MIGRATIONS", {**store.MIGRATIONS, now + 1: ("CREATE TABLE later (a)",)})
    assert all_of(stash) == before
    assert all_of(stash) == before
    copies = [f for f in backup.backups_of(stash) if "before-migration" in f.name]
    assert len(copies) == 2  # the one before the failure, the one before the success
    with sqlite3.connect(copies[0]) as db:
        assert db.execute("PRAGMA user_version").fetchone()[0] == now
    db.close()
    backup.restore(stash, copies[0])  # an old backup is brought up to date
    assert all_of(stash) == before


WITHOUT_RIGHTS = """
import os, sys
from pathlib import Path
from advisor.stash import backup, store
if os.geteuid() == 0:
    os.setgid(65534)
    os.setuid(65534)
"""
"""A tester who may do everything lays that down first."""


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="no such users here")
def test_a_read_only_folder_can_be_read_and_says_so_when_changed():
    folder = Path(tempfile.mkdtemp())
    try:
        fill(folder / "stash.db")
        (folder / "stash.db").chmod(0o444)
        folder.chmod(0o555)
        code = """
path = Path(sys.argv[1])
with store.reading(path) as db:
    print(len(store.pieces(db)))
try:
    with store.changing(path) as db:
        store.remove(db, "piece 0")
except store.StashFault as error:
    print(error.line())
"""
        told = run(WITHOUT_RIGHTS + code, folder / "stash.db")
        assert told.stderr == ""
        count, line = told.stdout.splitlines()
        assert count == "3"
        assert "cannot be written" in line
        assert "--stash" in line
        assert sorted(f.name for f in folder.iterdir()) == ["stash.db"]
    finally:
        folder.chmod(stat.S_IRWXU)
        shutil.rmtree(folder)


@pytest.mark.skipif(os.name != "posix", reason="limits on the size of a file")
def test_a_full_disk_changes_nothing_and_says_so(stash):
    fill(stash)
    before = all_of(stash)
    code = """
import resource, sys
from pathlib import Path
from advisor.stash import backup, store, pieces
path = Path(sys.argv[1])
resource.setrlimit(resource.RLIMIT_FSIZE, (60_000, 60_000))
try:
    with store.changing(path) as db:
        for i in range(5000):
            store.add(db, pieces.Piece(f"more {i}", "linen " * 50))
except store.StashFault as error:
    print(error.line())
resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, 20_000))
try:
    backup.back_up(path)
except store.StashFault as error:
    print(error.line())
"""
    told = run(code, stash)
    lines = told.stdout.splitlines()
    assert told.stderr == ""
    assert len(lines) == 2
    assert all("nothing was changed" in line and "disk" in line for line in lines)
    assert all_of(stash) == before
    assert backup.backups_of(stash) == []
    folder = backup.folder_of(stash)
    assert not folder.exists() or not list(folder.iterdir())


@pytest.mark.skipif(not sys.platform.startswith("linux") or os.geteuid() != 0, reason="mounting a small disk")
def test_a_disk_that_is_truly_full_changes_nothing(tmp_path):
    disk = tmp_path / "disk"
    disk.mkdir()
    if subprocess.run(["mount", "-t", "tmpfs", "-o", "size=300k", "tmpfs", disk], capture_output=True).returncode:
        pytest.skip("mounting is not allowed here")
    try:
        path = disk / "stash.db"
        fill(path)
        before = all_of(path)
        with pytest.raises(StashFault, match="full"):
            fill(path, 5000, "more")
        assert all_of(path) == before
    finally:
        subprocess.run(["umount", disk], check=False)


def test_old_automatic_backups_go_and_those_asked_for_stay(stash, monkeypatch):
    monkeypatch.setattr(backup, "KEPT", 3)
    fill(stash)
    asked = backup.back_up(stash, "asked")
    made = [backup.back_up(stash, "before-import") for _ in range(6)]
    assert set(backup.backups_of(stash)) == {asked, *made[-3:]}
