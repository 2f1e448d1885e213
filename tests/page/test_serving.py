"""The command that starts the page: its port, its address, and what is said before a telephone may look in."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import time
import urllib.request

import pytest

from advisor.cli import run
from advisor.errors import Unclear
from advisor.page import serving


def test_a_taken_port_is_a_fault():
    first = serving.bound("127.0.0.1", 0, must=True)
    first.listen()
    taken = first.getsockname()[1]
    second = serving.bound("127.0.0.1", taken, must=False)
    assert second.getsockname()[1] != taken
    with pytest.raises(Unclear):
        serving.bound("127.0.0.1", taken, must=True)
    first.close()
    second.close()


def test_the_page_answers_to_another_name_than_its_own():
    assert serving.guard_for("127.0.0.1", 8731).hosts == {"127.0.0.1:8731", "localhost:8731"}
    assert serving.guard_for("192.168.1.20", 8731, "abc").hosts == {"192.168.1.20:8731"}


def test_a_code_is_short_or_twice_the_same():
    codes = {serving.code() for _ in range(200)}
    assert len(codes) == 200 and all(re.fullmatch(r"[2-9a-z]{8}", c) for c in codes)


@pytest.mark.parametrize(("address", "private"), [("192.168.1.20", True), ("10.0.0.3", True), ("93.184.216.34", False), ("169.254.3.4", True)])
def test_the_open_internet_passes_for_a_home(address, private):
    assert serving.is_private(address) is private


def test_a_telephone_is_let_in_without_the_warning(capsys, monkeypatch):
    monkeypatch.setattr(serving, "home_address", lambda: "192.168.1.20")
    monkeypatch.setattr(serving, "run", lambda *_: pytest.fail("opened"))
    assert run(["page", "--phone"]) == 2
    said = capsys.readouterr().err
    assert "home network" in said and "not encrypted" in said and "--yes" in said
    monkeypatch.setattr(serving, "home_address", lambda: "93.184.216.34")
    assert run(["page", "--phone", "--yes"]) == 2
    assert "open internet" in capsys.readouterr().err


def test_the_printed_address_does_not_answer(tmp_path, root):
    with subprocess.Popen(
        [sys.executable, "-m", "advisor", "page", "--port", "0", "--stash", str(tmp_path / "stash.db")],
        stdout=subprocess.PIPE, text=True, env=os.environ | {"PYTHONPATH": str(root)}, cwd=tmp_path,
    ) as server:  # fmt: skip
        try:
            assert server.stdout
            address = re.search(r"http://127\.0\.0\.1:\d+/", server.stdout.readline()).group()
            text = ""
            for _ in range(100):
                try:
                    text = urllib.request.urlopen(f"{address}press?ask=acetate+satin+lining", timeout=10).read().decode()
                    break
                except OSError:
                    time.sleep(0.2)
            assert "110 °C" in text
        finally:
            server.terminate()
