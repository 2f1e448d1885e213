"""Whatever is typed or read, only `Unclear` or `BadYaml` comes out, soon, and without filling the memory."""

from __future__ import annotations

import random
import time
import tracemalloc
from collections.abc import Callable

import pytest

from advisor.asks import read_ask
from advisor.errors import Unclear
from advisor.makes import parse_make
from advisor.reading import BadYaml, parse_yaml
from advisor.words import describe

CASES, CASES_FULL = 2_000, 100_000
SECONDS, MEGABYTES = 1.0, 150
"""CPU time and memory that one input may take at most."""

PIECES = [
    "cotton", "poplin", "silk", "120 gsm", "gsm", "%", "60% ", "65/35", "1/2", "1/0", "0/0", "mm", "oz", "momme", "-", "\u2212", "½",
    "\u2044", "²", "٣", "१", "9" * 40, "1e308", "nan", "inf", "-inf", "not", "or", ",", ";", "|", "(", ")", "at the", "flounce",
    "covered buttons", "\"", "'", "\\", "\x00", "\ud800", "\u202e", "\ufeff", "é", "e\u0301", "ß", "İ", "ﬁ", "𝟙", "👗", "\n", "\t", " ",
    "{", "}", "[", "]", ":", "&a", "*a", "<<:", "!!python/object/apply:os.system", "!!binary", "!x", "---", "...", "%YAML 1.1", "? ",
    "make", "features", "~", "null", "true", "0x1F", "1_000", "190:20:30", "2001-01-01", "#", ">", "@", "`", "wearer", "depth_mm",
]  # fmt: skip


def drawn(dice: random.Random) -> str:
    """One input: bytes, characters of all planes, pieces of the language, or a sound text broken somewhere."""
    kind = dice.randrange(5)
    if kind == 0:
        return dice.randbytes(dice.randint(0, 200)).decode("utf-8", dice.choice(["replace", "surrogateescape"]))
    if kind == 1:
        return "".join(chr(dice.randrange(0x110000)) for _ in range(dice.randint(0, 80)))
    if kind == 2:
        return dice.choice(["", " "]).join(dice.choice(PIECES) for _ in range(dice.randint(1, 30)))
    if kind == 3:
        return dice.choice(PIECES) * dice.choice([2, 10, 100, 400])
    sound = list(dice.choice([
        "viscose challis, 95 gsm, frays badly", "65% polyester 35% cotton poplin, 3.5 oz/yd2, 60 in wide", "flounce 25 cm deep at the hem",
        "9 covered buttons 12 mm", "make: skirt\nfeatures:\n  - flounce: {depth_mm: 250, at: hem}\nseason: summer\n",
        "make: x\nfeatures: [buttonholes]\nenvelope: {stretch_across: 30}\ncloth_needed:\n  - {length_m: 2, width_cm: 140}\n",
    ]))  # fmt: skip
    for _ in range(dice.randint(1, 4)):
        sound.insert(dice.randint(0, len(sound)), dice.choice([*PIECES, chr(dice.randrange(0x3000))]))
        del sound[dice.randrange(len(sound))]
    return "".join(sound)


@pytest.fixture(scope="module")
def readers(knowledge) -> dict[str, Callable[[str], object]]:
    return {
        "describe": lambda text: describe(text, knowledge),
        "ask": lambda text: read_ask(text, knowledge),
        "yaml": parse_yaml,
        "make": parse_make,
    }


def try_one(name: str, read: Callable[[str], object], text: str) -> float:
    """Reads one text and returns the CPU seconds that it took; anything but a plain refusal is told with the text."""
    start = time.process_time()
    try:
        read(text)
    except (Unclear, BadYaml) as error:
        assert "\n" not in (error.line() if isinstance(error, Unclear) else str(error)), f"{name}: {text[:300]!r}"
    except Exception as error:
        raise AssertionError(f"{name}: {error.__class__.__name__}: {error} on {text[:300]!r}") from error
    return time.process_time() - start


@pytest.mark.parametrize("name", ["describe", "ask", "yaml", "make"])
def test_random_input_is_read_or_refused(name, readers, full):
    dice = random.Random(f"fuzz {name}")
    for _ in range((CASES_FULL if full else CASES) // 4):
        text = drawn(dice)
        assert try_one(name, readers[name], text) < SECONDS, f"{name} is slow on {text[:300]!r}"


MEGABYTE = 1_000_000
BOMB = "a: &a [x, x]\n" + "".join(f"{chr(98 + i)}: &{chr(98 + i)} [*{chr(97 + i)}, *{chr(97 + i)}]\n" for i in range(20))
NASTY = {
    "a megabyte of one letter": "a" * MEGABYTE,
    "a megabyte of figures": "9" * MEGABYTE,
    "a megabyte of blanks": " " * MEGABYTE,
    "a megabyte of words": "cotton poplin " * (MEGABYTE // 14),
    "a megabyte of shares": "1% " * (MEGABYTE // 3),
    "two thousand figures": "1 " * 999,
    "two thousand slashes": "1/" * 999,
    "two thousand points": "1." * 999,
    "two thousand combining accents": "a" + "\u0301" * 1990,
    "two thousand spaces before a unit": "1" + " " * 1990 + "mn",
    "two thousand long ligatures": "\ufdfa" * 1990,
    "at at at": " at the" * 280,
    "deep lists": "[" * 50_000,
    "deep maps": "{a: " * 50_000,
    "deep by dashes": "- " * 50_000 + "x",
    "deep by indents": "".join(" " * i + "a:\n" for i in range(1_000)),
    "a megabyte of dashes": "- " * (MEGABYTE // 2),
    "question marks": "? " * 20_000,
    "alias bomb": BOMB,
    "alias to itself": "&a [*a]",
    "alias as key": "&a x: *a",
    "merge": "a: &a {b: 1}\nc: {<<: *a}",
    "a tag of Python": "!!python/object/apply:os.system ['echo hello']",
    "another tag of Python": "make: !!python/name:os.system ''",
    "a tag of our own": "make: !thing x",
    "a huge integer": "make: " + "9" * 100_000,
    "a huge exponent": "make: 1e999999999",
    "a long float": "1." + "0" * 100_000 + "e5",
    "many keys": "\n".join(f"k{i}: {i}" for i in range(20_000)),
    "one key twice": "a: 1\na: 2",
    "a list as key": "? [1, 2]\n: 3",
    "two documents": "a: 1\n---\nb: 2",
    "bytes of nought": "\x00" * 1_000,
    "lone surrogates": "\ud800" * 100,
    "a mark of order": "\ufeffmake: x",
    "nothing": "",
    "null": "~",
    "a bare word": "make",
    "not a map": "[1, 2]",
}


@pytest.mark.parametrize("name", ["describe", "ask", "yaml", "make"])
@pytest.mark.parametrize("nasty", NASTY)
def test_nasty_input_is_read_or_refused_soon(name, nasty, readers):
    limit = SECONDS if len(NASTY[nasty]) < 200_000 else 4 * SECONDS
    assert try_one(name, readers[name], NASTY[nasty]) < limit


@pytest.mark.parametrize("name", ["describe", "ask", "yaml", "make"])
def test_memory_stays_bounded(name, readers):
    for nasty in ("a megabyte of words", "a megabyte of dashes", "alias bomb", "deep lists", "two thousand long ligatures"):
        tracemalloc.start()
        try_one(name, readers[name], NASTY[nasty])
        peak = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        assert peak < MEGABYTES * 1e6, nasty
