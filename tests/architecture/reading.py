"""Reads the imports of a source tree, and says which of them break the rules of the house."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

# From the inside out: a room may import those on earlier lines, never one of its own line.
LAYERS = (
    ("units",),
    ("words",),
    ("errors",),
    ("geometry", "lettering", "disk"),
    ("wood", "keys"),
    ("patterns",),
    ("design",),
    ("plan",),
    ("offcuts",),
    ("report", "sheets"),
    ("figure", "cutting_report"),
    ("picture",),
    ("gallery",),
    ("output",),
    ("jigs",),
    ("packet",),
    ("cli",),
    ("__main__",),
)
RANK = {room: rank for rank, rooms in enumerate(LAYERS) for room in rooms}
# A fixture is made from the plan alone, whatever else stands further in.
BEYOND_THE_PLAN = ("offcuts", "report", "sheets", "figure", "picture", "gallery", "output")
# Libraries that only one room may know.
KEPT_IN = {
    "click": ("cli",),
    "cadquery": ("jigs",),
    "OCP": ("jigs",),
    "svgwrite": ("output",),
    "ezdxf": ("offcuts", "output"),
    "shapely": ("jigs", "offcuts"),
    "typst": ("output",),
}
# Libraries that cost so much to load that they are loaded only where they are used.
ONLY_IN_FUNCTIONS = ("cadquery", "OCP", "jigs")


@dataclass(frozen=True, slots=True, kw_only=True)
class Import:
    """One import: the module's full name, where it stands, and whether it runs on loading."""

    module: str
    line: int
    on_loading: bool


def imports(path: Path) -> Iterator[Import]:
    """Every import of a file, those inside functions and those for type checkers included."""
    yield from _within(ast.parse(path.read_text(encoding="utf-8")), on_loading=True)


def _within(node: ast.AST, *, on_loading: bool) -> Iterator[Import]:
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.Import):
            for name in child.names:
                yield Import(module=name.name, line=child.lineno, on_loading=on_loading)
        elif isinstance(child, ast.ImportFrom):
            if child.level:
                yield Import(module="." * child.level, line=child.lineno, on_loading=on_loading)
            else:
                for name in child.names:
                    full = f"{child.module}.{name.name}"
                    yield Import(module=full, line=child.lineno, on_loading=on_loading)
        else:
            later = isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef) or (
                isinstance(child, ast.If) and "TYPE_CHECKING" in ast.unparse(child.test)
            )
            yield from _within(child, on_loading=on_loading and not later)


def room_of(parts: tuple[str, ...]) -> str | None:
    """The room of a module by the parts of its name; None for what belongs to all."""
    if parts[0] == "jigs":
        return "jigs"
    return parts[1] if parts[0] == "rosette" and len(parts) > 1 else None


def complaints(root: Path) -> list[str]:
    """Every broken rule in `rosette/` and `jigs/` under `root`, one sentence each."""
    files = {folder: sorted((root / folder).rglob("*.py")) for folder in ("rosette", "jigs")}
    found = [f"{folder}/ holds no Python file" for folder, paths in files.items() if not paths]
    for path in [path for paths in files.values() for path in paths]:
        parts = path.relative_to(root).with_suffix("").parts
        room = None if parts == ("rosette", "__init__") else room_of(parts)
        if room is not None and room not in RANK:
            found.append(f"{'/'.join(parts)}: no such room as {room}")
            continue
        for one in imports(path):
            problem = _problem(room, one)
            if problem:
                found.append(f"{path.relative_to(root).as_posix()}:{one.line}: {problem}")
    return found


def _problem(room: str | None, one: Import) -> str | None:
    parts = tuple(one.module.split("."))
    if not parts[0]:
        return "a relative import; write it out"
    if parts[0] in KEPT_IN and room not in KEPT_IN[parts[0]]:
        return f"{parts[0]} belongs in {' and '.join(KEPT_IN[parts[0]])}"
    if parts[0] in ONLY_IN_FUNCTIONS and one.on_loading and room != parts[0]:
        return f"{parts[0]} is imported on loading, not inside the function that needs it"
    other = room_of(parts)
    if other is None or other == room or parts == ("rosette", "__version__"):
        return None
    if other not in RANK:
        return f"no such room as {other}"
    if room is None or RANK[other] >= RANK[room]:
        return f"{room or 'the package itself'} imports {other}, which stands further out"
    if room == "jigs" and other in BEYOND_THE_PLAN:
        return f"a fixture reads only the plan, not {other}"
    return None
