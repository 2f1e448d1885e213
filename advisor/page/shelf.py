"""The make files that the page can choose from: its own folder, and the examples that come with the advisor.

A make is named by its place and its file's stem ('own/saturday-skirt'); a name that is not in the list leads nowhere.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from advisor.errors import Unclear
from advisor.knowledge import shipped_folder
from advisor.makes import Make, read_make


@dataclass(frozen=True)
class OnShelf:
    """One make file: its name here, its path, and the make, or why it cannot be read."""

    name: str
    path: Path
    make: Make | None
    problem: str = ""

    @property
    def title(self) -> str:
        return self.make.make if self.make else self.path.stem

    @property
    def own(self) -> bool:
        return self.name.startswith("own/")


class Shelf:
    """The folder of own makes with the examples behind it."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def paths(self) -> dict[str, Path]:
        """Name → file, one's own first."""
        found = {}
        for place, folder in (("own", self.folder), ("example", shipped_folder() / "makes")):
            for path in sorted(folder.glob("*.yaml")) if folder.is_dir() else []:
                if path.is_file() and not path.is_symlink():
                    found[f"{place}/{path.stem}"] = path
        return found

    def every(self) -> list[OnShelf]:
        return [self._read(name, path) for name, path in self.paths().items()]

    def path(self, name: str) -> Path:
        """The file of this name; raises `Unclear`."""
        paths = self.paths()
        if name not in paths:
            raise Unclear(f"make '{name[:60]}'", "a make that the list shows")
        return paths[name]

    def find(self, name: str) -> OnShelf:
        return self._read(name, self.path(name))

    def _read(self, name: str, path: Path) -> OnShelf:
        try:
            return OnShelf(name, path, read_make(path))
        except Unclear as fault:
            return OnShelf(name, path, None, fault.line())

    def place(self, make: Make) -> Path:
        """Where a new make's file goes: a free name after the make's own."""
        from advisor.making.writing import file_name

        self.folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        first = self.folder / file_name(make.make)
        path, number = first, 1
        while path.exists():
            number += 1
            path = first.with_stem(f"{first.stem}-{number}")
        return path
