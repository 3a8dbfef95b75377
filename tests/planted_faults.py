"""Plants faults into the package, one at a time, and tells which of them the tests see.

    python tests/planted_faults.py --seed 1 --count 60 --jobs 2

Lines and operators are drawn at random, by the seed. Each fault is planted into a copy of the checkout, never into the
checkout itself. First run the tests that go with the module, then those of whole vans (sentences, tables, worked vans,
yesterday's answers), then those that name the module or one that imports it, then a few over all answers; with
``--stages 5`` also every other test, in an order drawn by the seed. Each stage ends at the first failure or when its
time is up, so a fault that survives may yet be seen by another test, never the other way round. A failure counts only
if the same test passes without the fault and fails again with it.

A fault that can change nothing that anybody is told is no test of the tests. Those stand in ``harmless_faults.csv``,
each with the argument why, and are drawn no more; how many of a draw were passed over is told.
"""

from __future__ import annotations

import argparse
import ast
import copy
import csv
import json
import os
import queue
import random
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
FLOORS = ("physics", "system", "answers")

SWAPPED: dict[type[ast.AST], type[ast.AST]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.Pow: ast.Mult,
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.And: ast.Or,
    ast.Or: ast.And,
}
TURNED: dict[type[ast.AST], type[ast.AST]] = {ast.Lt: ast.Gt, ast.Gt: ast.Lt, ast.LtE: ast.GtE, ast.GtE: ast.LtE}
NAMES = {"min": "max", "minimum": "maximum", "any": "all", "argmin": "argmax", "floor": "ceil", "nanmin": "nanmax"}
NAMES |= {new: old for old, new in NAMES.items()}

UNREAD = re.compile(r"browser|benchmarks|peers|test_(checks|floors|wheel|package|notebooks|docstrings|records)\.py")
"""Tests that know nothing of numbers, or need a room of their own."""

SHOWN = re.compile("tests/(document|figures|panels|terminal)/")
"""Tests of what shows numbers: they come last."""

TOLD = (
    "tests/test_sentences.py",
    "tests/answers/test_worked_vans.py",
    "tests/answers/test_worked_vans_frost.py",
    "tests/answers/test_own_row.py",
    "tests/net/test_net.py",
)
"""Tests of every sentence and number of whole vans: few, quick, and they see much."""

OVER_ALL = (
    "tests/physics/test_elements.py",
    "tests/answers/test_unsaid.py",
    "tests/test_walk.py",
    "tests/answers/test_dangers.py",
    "tests/answers/test_cautions_told.py",
    "tests/answers/test_one_value.py",
    "tests/answers/test_situations.py",
    "tests/test_published.py",
    "tests/test_every_plan.py",
    "tests/system/test_rows.py",
    "tests/options/test_rows.py",
    "tests/test_fleet.py",
    "tests/test_half_plans.py",
)
"""Tests of properties over all answers."""

HARMLESS = Path("tests/harmless_faults.csv")
"""Faults that change nothing that anybody is told: file, line, what stands there, what instead, why."""

OPTIONS = (
    "--import-mode=importlib --strict-markers --doctest-modules --benchmark-disable -p no:cacheprovider --assert=plain"
)

MOST_FICKLE = 5
"""Tests that may fail for another reason before nothing can be said of a fault."""


@dataclass(frozen=True)
class Fault:
    """A piece of a line and what stands there instead."""

    file: str
    line: int
    start: int
    end: int
    old: str
    new: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.old} -> {self.new}"


def faults(file: str, source: str) -> Iterator[Fault]:
    """Every fault that could be planted into a source."""
    encoded = source.encode()
    starts = [0]
    for line in encoded.splitlines(keepends=True):
        starts.append(starts[-1] + len(line))
    for node, decides in _read(ast.parse(source)):
        for other in _instead(node, decides):
            start = starts[node.lineno - 1] + node.col_offset
            end = starts[(node.end_lineno or 0) - 1] + (node.end_col_offset or 0)
            new = ast.unparse(other)
            bare = isinstance(other, ast.Name | ast.Constant | ast.Attribute | ast.Subscript | ast.Call)
            yield Fault(file, node.lineno, start, end, encoded[start:end].decode(), new if bare else f"({new})")


def _read(node: ast.AST) -> Iterator[tuple[ast.expr, bool]]:
    """Expressions that do something, and whether they decide; no annotations, decorators, texts, refusals."""
    for name, value in ast.iter_fields(node):
        if name in ("annotation", "returns", "decorator_list", "bases"):
            continue
        for child in value if isinstance(value, list) else [value]:
            silent = isinstance(child, ast.Raise | ast.JoinedStr | ast.Assert)
            listed = isinstance(child, ast.Assign) and ast.unparse(child.targets[0]) == "__all__"
            strict = isinstance(child, ast.keyword) and child.arg == "strict"
            typing = isinstance(child, ast.If) and ast.unparse(child.test) == "TYPE_CHECKING"
            if not isinstance(child, ast.AST) or silent or listed or strict or typing:
                continue
            if isinstance(child, ast.expr):
                yield child, name in ("test", "ifs")
            yield from _read(child)


def _instead(node: ast.expr, decides: bool) -> Iterator[ast.expr]:
    """What could stand in the place of an expression."""
    if decides and not isinstance(node, ast.Compare | ast.UnaryOp):
        yield ast.UnaryOp(ast.Not(), node)
    if isinstance(node, ast.BinOp | ast.BoolOp) and type(node.op) in SWAPPED:
        yield _with(node, op=SWAPPED[type(node.op)]())
    elif isinstance(node, ast.Compare) and len(node.ops) == 1:
        for table in (SWAPPED, TURNED):
            if type(node.ops[0]) in table:
                yield _with(node, ops=[table[type(node.ops[0])]()])
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub | ast.Not):
        yield node.operand
    elif isinstance(node, ast.Constant) and isinstance(node.value, bool):
        yield ast.Constant(not node.value)
    elif isinstance(node, ast.Constant) and isinstance(node.value, int):
        yield ast.Constant(node.value + max(node.value // 4, 1))
    elif isinstance(node, ast.Constant) and isinstance(node.value, float):
        yield ast.Constant(node.value * 1.25 or 1.0)
    elif isinstance(node, ast.Name) and node.id in NAMES:
        yield ast.Name(NAMES[node.id])
    elif isinstance(node, ast.Attribute) and node.attr in NAMES:
        yield _with(node, attr=NAMES[node.attr])
    elif isinstance(node, ast.Subscript) and isinstance(node.slice, ast.Constant) and node.slice.value == 0:
        yield _with(node, slice=ast.Constant(-1))
    elif isinstance(node, ast.Call) and ast.unparse(node.func) == "np.where" and len(node.args) == 3:
        yield _with(node, args=[node.args[0], node.args[2], node.args[1]])


def _with(node: ast.expr, **changed: object) -> ast.expr:
    other = copy.copy(node)
    for name, value in changed.items():
        setattr(other, name, value)
    return other


@cache
def plantable(path: Path, file: str) -> tuple[Fault, ...]:
    """Every fault that could be planted into a file of a checkout, which is read once."""
    return tuple(faults(file, path.read_text(encoding="utf-8")))


def harmless(root: Path) -> list[tuple[str, str, str, str, str]]:
    """The committed list of faults that change nothing, each with its argument."""
    with (root / HARMLESS).open(encoding="utf-8", newline="") as file:
        return [(where, line, old, new, why) for where, line, old, new, why in list(csv.reader(file))[1:]]


def told_apart(root: Path, drawn: list[Fault]) -> tuple[list[Fault], list[Fault]]:
    """Faults that tests should see, and those of the committed list."""
    listed = {each[:4] for each in harmless(root)}

    def passed_over(fault: Fault) -> bool:
        line = (root / fault.file).read_text(encoding="utf-8").splitlines()[fault.line - 1].strip()
        return (fault.file, line, fault.old, fault.new) in listed

    return [each for each in drawn if not passed_over(each)], [each for each in drawn if passed_over(each)]


def draw(root: Path, seed: int, count: int, floors: tuple[str, ...], only: str = "") -> list[Fault]:
    """Faults of a checkout drawn by the seed: first a line of those where something can be planted, then what."""
    lines: dict[tuple[str, int], list[Fault]] = {}
    for floor in floors:
        for path in sorted((root / "vanwater" / floor).rglob("*.py")):
            file = str(path.relative_to(root))
            for fault in plantable(path, file):
                if f"{file}:{fault.line}".startswith(only):
                    lines.setdefault((file, fault.line), []).append(fault)
    chance = random.Random(seed)
    places = sorted(lines)
    return [chance.choice(lines[place]) for place in chance.sample(places, min(count, len(places)))]


@cache
def _texts(root: Path, folder: str, pattern: str) -> dict[str, str]:
    return {
        str(path.relative_to(root)): path.read_text(encoding="utf-8") for path in sorted((root / folder).rglob(pattern))
    }


def _dotted(file: str) -> str:
    return ".".join(Path(file).with_suffix("").parts)


def _naming(texts: dict[str, str], *modules: str) -> list[str]:
    """The files in which one of the modules is named."""
    named = re.compile("|".join(rf"{re.escape(module)}\b(?!\.)" for module in modules) or "(?!)")
    return [file for file, text in texts.items() if named.search(text)]


def stages(root: Path, fault: Fault, seed: int) -> list[list[str]]:
    """Tests of the module, of whole vans, of what is near the module, over all answers; others by chance."""
    path = Path(fault.file).relative_to("vanwater")
    texts = {test: text for test, text in _texts(root, "tests", "test_*.py").items() if not UNREAD.search(test)}
    home = next(folder for folder in path.parents if (root / "tests" / folder).is_dir())
    subject = (path.relative_to(home).parts[0] if path.parent != home else path.stem).removeprefix("_")
    folder, naming = f"tests/{home}/", _naming(texts, _dotted(fault.file))
    above = [_dotted(file) for file in _naming(_texts(root, "vanwater", "*.py"), _dotted(fault.file))]
    own = [test for test in texts if test.startswith(folder) and (test in naming or subject in Path(test).stem)]
    told = [test for test in TOLD if test in texts and test not in own]
    beside = [test for test in texts if test.startswith(folder)] if len(home.parts) > 1 else []
    near = _without([*naming, *beside, *_naming(texts, *above)], own, told)
    over_all = _without([test for test in OVER_ALL if test in texts], own, told, near)
    rest = _without(list(texts), own, told, near, over_all)
    random.Random(f"{seed} {fault}").shuffle(rest)
    near.sort(key=lambda test: (bool(SHOWN.search(test)), not test.startswith(folder)))
    rest.sort(key=lambda test: bool(SHOWN.search(test)))
    return [[fault.file, *own], told, near, over_all, rest]


def _without(tests: list[str], *others: list[str]) -> list[str]:
    """Each once, and none of the others."""
    return list(dict.fromkeys(test for test in tests if not any(test in several for several in others)))


class Bench:
    """A copy of the checkout in which one fault at a time is planted, and a python that tests it."""

    def __init__(self, source: Path) -> None:
        self.place = Path(tempfile.mkdtemp(prefix="planted-"))
        self.closed = False
        self.moment = int(time.time())
        self.sound: dict[str, bool] = {}
        passed = shutil.ignore_patterns(".*", "__pycache__", "build", "dist")
        shutil.copytree(source, self.place, ignore=passed, dirs_exist_ok=True)
        room = {"PYTHONPATH": str(self.place), "OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}
        room["CI"] = "1"  # hypothesis then draws the same each time and has no deadline
        room["PYTHONDONTWRITEBYTECODE"] = ""  # what is not planted is compiled once
        self.warm = subprocess.Popen(
            [sys.executable, "-m", "tests.warm"],
            cwd=self.place,
            env=os.environ | room,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            start_new_session=True,
        )

    def pytest(self, words: list[str], limit: float) -> tuple[int | None, str]:
        """Exit code and output of pytest; no code where its time was up."""
        if self.closed:
            raise RuntimeError("the bench is closed")
        assert self.warm.stdin is not None and self.warm.stdout is not None
        self.warm.stdin.write(json.dumps({"words": words, "limit": limit}) + "\n")
        self.warm.stdin.flush()
        code, output = json.loads(self.warm.stdout.readline())
        return code, output

    def close(self) -> None:
        """Ends the python, with the test that runs, and takes the copy away."""
        self.closed = True
        if self.warm.poll() is None:
            self.warm.terminate()
            self.warm.wait()
        shutil.rmtree(self.place, ignore_errors=True)

    def write(self, file: str, content: bytes) -> None:
        """Puts a file there, each time younger, so that no bytecode of another one passes for it."""
        path = self.place / file
        path.write_bytes(content)
        self.moment += 2
        os.utime(path, (self.moment, self.moment))

    def first_failure(self, tests: list[str], limit: float) -> str | None:
        """The first test that fails, an empty text where none does, nothing where the time was up before."""
        words = ["-x", "-q", "-rfE", "--no-header", "--tb=no", "-o", f"addopts={OPTIONS}"]
        code, output = self.pytest([*words, *tests], limit)
        if code in (None, 0, 5):  # 5: no test among them
            return None if code is None else ""
        named = re.search(r"^(?:FAILED|ERROR) (.+?)(?: - .*)?$", output, re.MULTILINE)
        if named is not None:
            return named[1]
        if code == 4 and "::" in tests[0]:  # what it is called hangs on the fault
            return self.first_failure([tests[0].partition("::")[0]], limit)
        if "conftest" in output:
            return tests[0]
        raise RuntimeError(f"pytest failed without a test (exit {code}):\n{output[-2000:]}")

    def try_fault(self, fault: Fault, seed: int, limit: float, most: int = 4) -> str:
        """What comes of a fault: "caught by ...", "survived", or why nothing can be said."""
        sound = (self.place / fault.file).read_bytes()
        planted = sound[: fault.start] + fault.new.encode() + sound[fault.end :]

        def failing(tests: list[str]) -> str | None:
            self.write(fault.file, planted)
            failed = self.first_failure(tests, limit)
            self.write(fault.file, sound)
            return failed

        def passes_without(test: str) -> bool:
            if test not in self.sound:
                self.sound[test] = self.first_failure([test], limit) == ""
            return self.sound[test]

        told = "survived"
        for number, tests in enumerate(filter(None, stages(self.place, fault, seed)[:most])):
            failed, fickle = failing(tests), list[str]()
            while failed:
                if passes_without(failed) and failing([failed]):
                    return f"caught by {failed}"
                if failed in fickle or len(fickle) == MOST_FICKLE:
                    return f"no word: without the fault, or not always with it, {', '.join(fickle)} fail"
                fickle.append(failed)
                failed = failing([*tests, *(f"--deselect={name}" for name in fickle)])
            if failed is None and number == 0 and self.first_failure(tests, limit) == "":
                return f"caught by the clock: {limit:.0f} s are not enough for its own tests"
            if failed is None:
                told = f"survived as far as {limit:.0f} s a stage went"
        return told


def main() -> int:
    """Draw, plant, tell."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n", maxsplit=1)[0])
    parser.add_argument("--seed", type=int, required=True)
    parser.add_argument("--count", type=int, default=60)
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--limit", type=float, default=60.0, help="seconds of work of a stage of tests")
    parser.add_argument("--floors", nargs="+", default=list(FLOORS), metavar="FLOOR")
    parser.add_argument("--stages", type=int, default=4, help="of 5: the fewer, the more may survive that others see")
    parser.add_argument("--only", default="", help="only lines whose file:line begins so, like vanwater/system/taps.py")
    parser.add_argument("--list", action="store_true", help="only tell what would be planted")
    asked = parser.parse_args()
    if asked.list:
        print(*draw(ROOT, asked.seed, asked.count, tuple(asked.floors), asked.only), sep="\n")
        return 0
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))
    benches: list[Bench] = []
    free: queue.Queue[Bench] = queue.Queue()
    try:
        for _ in range(max(1, asked.jobs)):
            benches.append(Bench(benches[0].place if benches else ROOT))
            free.put(benches[-1])
        drawn = draw(benches[0].place, asked.seed, asked.count, tuple(asked.floors), asked.only)
        drawn, passed_over = told_apart(benches[0].place, drawn)
        print(*(f"passed over, as listed: {fault}" for fault in passed_over), sep="\n", flush=True)

        def tried(fault: Fault) -> str:
            bench = free.get()
            try:
                return bench.try_fault(fault, asked.seed, asked.limit, asked.stages)
            finally:
                free.put(bench)

        told = []
        with ThreadPoolExecutor(len(benches)) as pool:
            try:
                for fault, outcome in zip(drawn, pool.map(tried, drawn), strict=True):
                    told.append(outcome)
                    print(f"{len(told):3} {outcome}\n    {fault}", flush=True)
            except BaseException:
                pool.shutdown(wait=False, cancel_futures=True)
                for bench in benches:
                    bench.close()
                raise
    finally:
        for bench in benches:
            bench.close()
    caught = sum(outcome.startswith("caught") for outcome in told)
    print(f"{caught} of {len(told)} caught, {len(passed_over)} passed over")
    print(
        *(f"{outcome}: {fault}" for fault, outcome in zip(drawn, told, strict=True) if "caught" not in outcome),
        sep="\n",
    )
    return 0


if __name__ == "__main__":
    sys.exit(main())
