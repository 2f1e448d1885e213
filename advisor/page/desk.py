"""What one run of the page holds: the knowledge, the names for type-ahead, the stash's file, and answers kept a while."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable
from contextlib import suppress
from functools import cached_property
from pathlib import Path
from typing import Any, TypeVar

from advisor import advise, report
from advisor.knowledge import Knowledge
from advisor.makes import Make
from advisor.model import Context, Feature
from advisor.page.asking import CIRCUMSTANCES, Question, Typed, question
from advisor.page.shelf import OnShelf, Shelf
from advisor.page.suggesting import Names
from advisor.page.uploads import Lists, Photographs

T = TypeVar("T")
KEPT = 200
"""How many answers are kept. People type on and come back; the reports are never changed, so each can be shown again."""

PICTURES = Path(__file__).parent / "static" / "features"


class Desk:
    """The state of one run. Answers are reckoned in threads; the cache has its own lock, the rest is read only."""

    def __init__(self, knowledge: Knowledge, stash: Path, *, home: Path | None = None) -> None:
        self.knowledge, self.stash = knowledge, stash
        self.home = home or stash.parent
        """The folder for what the page itself keeps: photographs and makes."""
        self.photographs, self.lists = Photographs(self.home / "photographs"), Lists(self.home / "waiting-lists")
        self.shelf = Shelf(self.home / "makes")
        self.names = Names(knowledge)
        self._kept: OrderedDict[object, Any] = OrderedDict()
        self._making: dict[object, threading.Lock] = {}
        self._lock = threading.Lock()
        self.heavy = threading.Lock()
        """Held while a whole stash or all cloths are judged: such work one after another, so that short questions go on."""

    def keep(self, key: object, make: Callable[[], T]) -> T:
        """The answer under this key, made once even where several ask at once; an error is not kept."""
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
                found: T = self._kept[key]
                return found
            turn = self._making.setdefault(key, threading.Lock())
        with turn:
            with self._lock:
                if key in self._kept:
                    found = self._kept[key]
                    return found
            try:
                answer = make()
                with self._lock:
                    self._kept[key] = answer
                    while len(self._kept) > KEPT:
                        self._kept.popitem(last=False)
            finally:
                with self._lock:
                    self._making.pop(key, None)
        return answer

    def warm(self) -> None:
        """Does once what the first question would wait for: names sorted, tables read, the engine begun."""
        with suppress(Exception):  # whatever is wrong is said to whoever asks
            cloth = next(iter(self.knowledge.cloths.values())).names[0]
            feature = next(iter(self.knowledge.features))
            self.names.suggest(cloth[:3])
            asked = question(Typed(ask=cloth, ticked=(feature,)), self.knowledge)
            self.check(asked)
            self.press(asked)

    def stamp(self) -> tuple[int, ...]:
        """Changes whenever the stash does, in the file or in its log, since answers may rest on a piece of it."""
        found = []
        for tail in ("", "-wal"):
            try:
                stat = Path(f"{self.stash}{tail}").stat()
                found += [stat.st_mtime_ns, stat.st_size]
            except OSError:
                found.append(0)
        return tuple(found)

    # ---- the four sheets ----

    def check(self, asked: Question) -> report.CheckReport:
        return self.keep(("check", asked.key, self.stamp()), lambda: advise.check(
            asked.cloth, asked.features, wearer=asked.wearer, season=asked.season, use=asked.use, care=asked.care,
            deciding=True, why=True, knowledge=self.knowledge,
        ))  # fmt: skip

    def press(self, asked: Question) -> report.PressReport:
        return self.keep(
            ("press", asked.key, self.stamp()), lambda: advise.press(asked.cloth, asked.features, knowledge=self.knowledge)
        )

    def prewash(self, asked: Question) -> report.PrewashReport:
        return self.keep(("prewash", asked.key, self.stamp()), lambda: advise.prewash(
            asked.cloth, care=asked.care, features=asked.features, knowledge=self.knowledge,
        ))  # fmt: skip

    def sew(self, asked: Question) -> report.SewReport:
        return self.keep(("sew", asked.key, self.stamp()), lambda: advise.sew(
            asked.cloth, asked.features, allowance_mm=asked.allowance_mm, knowledge=self.knowledge,
        ))  # fmt: skip

    # ---- makes ----

    def pick(self, make: Make, path: Path, cloths: list[str]) -> report.PickReport:
        """Cloths ranked for a make: those named, else all that are known."""

        def ranked() -> report.PickReport:
            with self.heavy:
                return advise.pick(make, cloths, knowledge=self.knowledge)

        return self.keep(("pick", str(path), path.stat().st_mtime_ns, tuple(cloths), self.stamp()), ranked)

    def makes(self) -> list[OnShelf]:
        return self.shelf.every()

    def make_path(self, name: str) -> Path:
        return self.shelf.path(name)

    def pick_from_stash(self, make: Make, path: Path) -> report.PickReport:
        """The pieces of the stash ranked for a make."""
        from advisor.stash.ranking import rank_stash

        def ranked() -> report.PickReport:
            with self.heavy:
                part, lessons = rank_stash(make, self.stash, self.knowledge)
            return report.PickReport(make.make, [], [], [], part.held, stash=part, lessons=lessons)

        return self.keep(("pick", str(path), path.stat().st_mtime_ns, self.stamp()), ranked)

    # ---- what forms offer ----

    @cached_property
    def groups(self) -> dict[str, list[Feature]]:
        """Features by group, details before whole garments, in the order of the knowledge files."""
        found: dict[str, list[Feature]] = {}
        for feature in self.knowledge.features.values():
            found.setdefault(feature.group, []).append(feature)
        return dict(sorted(found.items(), key=lambda g: any(f.parts for f in g[1])))

    @cached_property
    def pictures(self) -> dict[str, str]:
        """Feature id → its drawing's file name: its own, else its group's; ids without either are left out."""
        there = {p.stem for p in PICTURES.glob("*.svg")}
        found = {}
        for feature in self.knowledge.features.values():
            for name in (feature.id, f"group-{feature.group.replace(' ', '-')}"):
                if name in there:
                    found[feature.id] = f"{name}.svg"
                    break
        return found

    @cached_property
    def circumstances(self) -> dict[str, list[Context]]:
        """Circumstances to choose from, by kind."""
        return {
            kind: [c for c in self.knowledge.context.values() if c.kind == kind] for kind in CIRCUMSTANCES
        }
