"""The house stands: imports go down only, every module says what it offers, is short, and has its twin in the tests."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

from tests.over import over

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "vanwater"
FLOORS = (
    ("quantities",),
    ("physics",),
    ("plan",),
    ("system",),
    ("trips",),
    ("answers",),
    ("options",),
    ("figures",),
    ("document",),
    ("terminal", "panels"),
)
"""From the ground up; those of one line are neighbours and do not know each other."""

LEVEL = {floor: level for level, floors in enumerate(FLOORS) for floor in floors}
DOOR = "door"
"""What stands directly in the package: it opens every floor, and no floor goes out by it."""

LONGEST = 350
"""Lines of a module."""

THROUGH: dict[str, str] = {
    "answers/core/answer.py": "answers/test_questions.py",
    "answers/core/key.py": "answers/core/test_number.py",
    "answers/core/pieces.py": "answers/core/test_number.py",
    "answers/core/unfold.py": "answers/core/test_working.py",
}
"""Modules that are a piece of another one, and the test file in which they are tested through it."""

SPECIAL = ("__init__.py", "__main__.py")

FILES = sorted(path.relative_to(PACKAGE) for path in PACKAGE.rglob("*.py"))
MODULES = [file for file in FILES if file.name not in SPECIAL]
PUBLIC = [file for file in MODULES if not file.name.startswith("_")]


def name_of(file: Path) -> str:
    parts = ("vanwater", *file.with_suffix("").parts)
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


NAMES = {name_of(file): file for file in FILES}


@cache
def tree(file: Path) -> ast.Module:
    return ast.parse((PACKAGE / file).read_text(encoding="utf-8"))


def floor(name: str) -> str:
    """The floor of a module's dotted name."""
    parts = name.split(".")
    return parts[1] if len(parts) > 1 and parts[1] in LEVEL else DOOR


def targets(node: ast.AST) -> Iterator[str]:
    """What a statement imports, as dotted names of modules; texts that name a module count as well."""
    if isinstance(node, ast.Import):
        yield from (alias.name for alias in node.names)
    elif isinstance(node, ast.ImportFrom):
        assert node.level == 0, "imports name the whole way"
        for alias in node.names:
            below = f"{node.module}.{alias.name}"
            yield below if below in NAMES else str(node.module)
    elif isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value in NAMES:
        yield node.value


@cache
def imports(file: Path) -> set[str]:
    """Every module of the package that a file imports, be it at once, later or for its types only."""
    found = {name for node in ast.walk(tree(file)) for name in targets(node)}
    return {name for name in found if name == "vanwater" or name.startswith("vanwater.")}


def at_once(file: Path) -> set[str]:
    """What a file imports as soon as it is imported itself."""
    body = [node for node in tree(file).body if isinstance(node, ast.Import | ast.ImportFrom)]
    return {name for node in body for name in targets(node) if name in NAMES}


def test_the_walk_finds_the_house() -> None:
    assert len(FILES) > 100
    assert {floor(name) for name in NAMES} - {DOOR} <= set(LEVEL)
    assert {"quantities", "physics", "plan", "system", "answers", "figures"} <= {floor(name) for name in NAMES}
    folders = {file.parts[0] for file in FILES if len(file.parts) > 1}
    assert folders <= set(LEVEL), "a folder that is no floor"
    assert "vanwater.plan.model" in imports(Path("plan/file.py"))
    assert "vanwater.quantities" in imports(Path("plan/tanks.py"))


@over(FILES)
def test_imports_go_down_only(file: Path) -> None:
    own = floor(name_of(file))
    if own == DOOR:
        return
    for name in imports(file):
        other = floor(name)
        if name == "vanwater":
            continue
        assert other != DOOR, f"{file} goes out by the door: {name}"
        below = LEVEL[other] < LEVEL[own]
        assert below or other == own, f"{file} of {own} imports {name} of {other}"


@over(FILES)
def test_only_the_version_is_taken_from_the_package_itself(file: Path) -> None:
    for node in ast.walk(tree(file)):
        if isinstance(node, ast.ImportFrom) and node.module == "vanwater":
            plain = [alias.name for alias in node.names if f"vanwater.{alias.name}" not in NAMES]
            assert plain in ([], ["__version__"]), f"{file} takes {plain} by the door"
        if isinstance(node, ast.Import):
            assert "vanwater" not in [alias.name for alias in node.names] or floor(name_of(file)) == DOOR


def test_no_module_needs_itself_to_be_imported() -> None:
    graph = {name: {other for other in at_once(file) if other != name} for name, file in NAMES.items()}
    try:
        order = list(TopologicalSorter(graph).static_order())
    except CycleError as error:
        raise AssertionError(f"imports run in a ring: {' -> '.join(error.args[1])}") from error
    assert len(order) == len(NAMES)


def test_panels_stand_on_floors_of_their_own() -> None:
    """No ring of imports, be they made at once, within a function or for types alone; and who is above whom."""
    panels = {name: file for name, file in NAMES.items() if file.parts[0] == "panels" and len(file.parts) == 2}
    graph = {name: (imports(file) & panels.keys()) - {name} for name, file in panels.items()}
    assert len(graph) > 40
    try:
        order = list(TopologicalSorter(graph).static_order())
    except CycleError as error:
        raise AssertionError(f"imports run in a ring: {' -> '.join(error.args[1])}") from error
    floors = ("followed", "live", "panel_base", "panel", "bench", "__init__")
    places = [order.index(name_of(Path("panels") / f"{name}.py")) for name in floors]
    assert places == sorted(places)
    above = {name for name, below in graph.items() if f"{PACKAGE.name}.panels.bench" in below}
    assert above == {f"{PACKAGE.name}.panels"}, "what shows a bench takes what is followed, not the bench"


@over(FILES)
def test_what_is_private_stays_at_home(file: Path) -> None:
    home = file.parent
    for node in ast.walk(tree(file)):
        if not isinstance(node, ast.ImportFrom) or not str(node.module).startswith("vanwater"):
            continue
        named = [alias.name for alias in node.names if alias.name.startswith("_") and not alias.name.startswith("__")]
        modules = [name for name in named if f"{node.module}.{name}" in NAMES]
        assert named == modules, f"{file} takes {named} out of {node.module}"
        for name in (*modules, *(part for part in str(node.module).split(".") if part.startswith("_"))):
            where = NAMES[f"{node.module}.{name}" if name in modules else str(node.module)].parent
            assert home == where or home.is_relative_to(where), f"{file} uses {name} of another floor"


def said(file: Path) -> list[str] | None:
    """The names of ``__all__``, or None where there is none or it is not a plain list."""
    for node in tree(file).body:
        if isinstance(node, ast.Assign) and any(getattr(target, "id", "") == "__all__" for target in node.targets):
            return list(ast.literal_eval(node.value)) if not _starred(node.value) else None
    return None


def _starred(node: ast.expr) -> bool:
    return any(isinstance(inner, ast.Starred) for inner in ast.walk(node))


def made(file: Path) -> set[str]:
    """Public functions and classes that a module makes."""
    kinds = ast.FunctionDef | ast.ClassDef
    return {node.name for node in tree(file).body if isinstance(node, kinds) and not node.name.startswith("_")}


@over(PUBLIC)
def test_a_module_lists_what_it_offers_sorted(file: Path) -> None:
    listed = said(file)
    if listed is None:
        assert not made(file), "public names, but no __all__"
        return
    assert listed == sorted(listed, key=lambda name: (not name.isupper(), name[0].islower(), name))
    assert len(set(listed)) == len(listed)
    assert not [name for name in listed if name.startswith("_") and not name.startswith("__")]


@over(FILES)
def test_a_module_is_short_and_says_what_it_is(file: Path) -> None:
    text = (PACKAGE / file).read_text(encoding="utf-8")
    assert text.count("\n") <= LONGEST
    assert not text.strip() or (ast.get_docstring(tree(file)) or "").strip()


def twin(file: Path) -> Path:
    """The test file of a module; a package below a floor may have one for all of its modules."""
    own = ROOT / "tests" / file.parent / f"test_{file.name}"
    if len(file.parts) < 3 or own.exists():
        return own
    answer = ROOT / "tests" / file.parent / "test_answer.py"
    return answer if answer.exists() else ROOT / "tests" / file.parent.parent / f"test_{file.parent.name}.py"


@over(PUBLIC)
def test_a_module_has_its_twin(file: Path) -> None:
    if str(file) in THROUGH:
        through = ROOT / "tests" / THROUGH[str(file)]
        assert through.exists()
        tested = set(re.findall(r"vanwater\.[\w.]+", through.read_text(encoding="utf-8")))
        parents = {name_of(other) for other in FILES if name_of(file) in imports(other)}
        above = {name_of(other) for other in FILES if parents & imports(other)}
        assert tested & ({name_of(file)} | parents | above), f"{through.name} does not reach {file}"
        assert not (ROOT / "tests" / file.parent / f"test_{file.name}").exists(), "it has a twin of its own by now"
        return
    found = twin(file)
    assert found.exists(), f"{found.relative_to(ROOT)} is missing"
    assert "def test_" in found.read_text(encoding="utf-8")


def test_exceptions_are_few_and_real() -> None:
    assert len(THROUGH) < len(PUBLIC) / 8
    assert [file for file in THROUGH if not (PACKAGE / file).exists()] == []


BY_PENS = {
    "document/plan_listing.py": "the plan's own values",
    "figures/data.py": "points of a curve",
    "figures/drawing.py": "points of a curve",
    "figures/sheet.py": "bars of a chart",
    "panels/published.py": "what a source printed",
    "panels/worked.py": "what a hand worked out",
    "terminal/address.py": "the plan's own values",
}
"""Who writes amounts that are no numbers of an answer, and what they are; this list only grows shorter."""


@over(MODULES)
def test_only_the_core_makes_amounts_and_ranges(file: Path) -> None:
    if file.parts[:2] == ("answers", "core"):
        return
    built = {
        node.func.id
        for node in ast.walk(tree(file))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in ("Amount", "Range")
    }
    assert bool(built) == (str(file) in BY_PENS), f"{file} makes {built or 'none any more'}"
