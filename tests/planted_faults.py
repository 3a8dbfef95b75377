"""Plants faults into the package, one at a time, and tells which of them the tests see.

    python tests/planted_faults.py --seed 1 --count 60 --jobs 2

Lines and operators are drawn at random, by the seed. Each fault is planted into a copy of the checkout, never into the
checkout itself. First run the tests that go with the module, then those of what whole vans are told, then those of its
folder, then others in an order drawn by the seed, each stage until the first failure or until its time is up. A failure
counts only if the same test passes without the fault and fails again with it.
"""

from __future__ import annotations

import argparse
import ast
import copy
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

TOLD = ("tests/test_sentences.py", "tests/answers/test_worked_vans.py")
"""Tests of every sentence and number of whole vans: few, quick, and they see much."""

OPTIONS = "--import-mode=importlib --strict-markers --doctest-modules --benchmark-disable -p no:cacheprovider"


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


def draw(root: Path, seed: int, count: int, floors: tuple[str, ...], only: str = "") -> list[Fault]:
    """Faults of a checkout drawn by the seed: first a line of those where something can be planted, then what."""
    lines: dict[tuple[str, int], list[Fault]] = {}
    for floor in floors:
        for path in sorted((root / "vanwater" / floor).rglob("*.py")):
            file = str(path.relative_to(root))
            for fault in faults(file, path.read_text(encoding="utf-8")):
                if f"{file}:{fault.line}".startswith(only):
                    lines.setdefault((file, fault.line), []).append(fault)
    chance = random.Random(seed)
    places = sorted(lines)
    return [chance.choice(lines[place]) for place in chance.sample(places, min(count, len(places)))]


def stages(root: Path, fault: Fault, seed: int) -> list[list[str]]:
    """Tests of the module, of what whole vans are told, of the module's folder; others by chance."""
    path = Path(fault.file).relative_to("vanwater")
    tests = [str(test.relative_to(root)) for test in sorted((root / "tests").rglob("test_*.py"))]
    tests = [test for test in tests if not UNREAD.search(test)]
    home = next(folder for folder in path.parents if (root / "tests" / folder).is_dir())
    subject = (path.relative_to(home).parts[0] if path.parent != home else path.stem).removeprefix("_")
    dotted = ".".join(("vanwater", *path.with_suffix("").parts))
    naming = {test for test in tests if dotted in (root / test).read_text(encoding="utf-8")}
    folder = f"tests/{home}/"
    own = [test for test in tests if test.startswith(folder) and (test in naming or subject in Path(test).stem)]
    near = [test for test in tests if test.startswith(folder) and test not in own]
    told = [test for test in TOLD if test in tests]
    near = [test for test in near if test not in told]
    rest = [test for test in tests if test not in (*own, *told, *near)]
    random.Random(f"{seed} {fault}").shuffle(near)
    random.Random(f"{seed} {fault}").shuffle(rest)
    near.sort(key=lambda test: test not in naming)
    rest.sort(key=lambda test: (test not in naming, bool(SHOWN.search(test))))
    return [[fault.file, *own], told, near, rest]


class Bench:
    """A copy of the checkout in which one fault at a time is planted."""

    def __init__(self, source: Path) -> None:
        self.place = Path(tempfile.mkdtemp(prefix="planted-"))
        self.running: subprocess.Popen[str] | None = None
        self.closed = False
        self.moment = int(time.time())
        passed = shutil.ignore_patterns(".*", "__pycache__", "build", "dist")
        shutil.copytree(source, self.place, ignore=passed, dirs_exist_ok=True)

    def python(self, words: list[str], limit: float) -> tuple[int | None, str]:
        """Exit code and output of a python; no code where its time was up."""
        if self.closed:
            raise RuntimeError("the bench is closed")
        room = {"PYTHONPATH": str(self.place), "OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}
        room["CI"] = "1"  # hypothesis then draws the same each time and has no deadline
        self.running = subprocess.Popen(
            [sys.executable, *words],
            cwd=self.place,
            env=os.environ | room,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            start_new_session=True,
        )
        try:
            output = self.running.communicate(timeout=limit)[0]
        except subprocess.TimeoutExpired:
            self.end()
            return None, ""
        return self.running.returncode, output

    def close(self) -> None:
        """Ends what runs and takes the copy away."""
        self.closed = True
        self.end()
        shutil.rmtree(self.place, ignore_errors=True)

    def end(self) -> None:
        """Ends what runs, with all that it started."""
        if self.running is not None and self.running.poll() is None:
            os.killpg(self.running.pid, signal.SIGKILL)
            self.running.wait()

    def write(self, file: str, content: bytes) -> None:
        """Puts a file there, each time younger, so that no bytecode of another one passes for it."""
        path = self.place / file
        path.write_bytes(content)
        self.moment += 2
        os.utime(path, (self.moment, self.moment))

    def first_failure(self, tests: list[str], limit: float) -> str | None:
        """The first test that fails, an empty text where none does, nothing where the time was up before."""
        pytest = ["-m", "pytest", "-x", "-q", "-rfE", "--no-header", "--tb=no"]
        code, output = self.python([*pytest, "-o", f"addopts={OPTIONS}", *tests], limit)
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

    def try_fault(self, fault: Fault, seed: int, limit: float) -> str:
        """What comes of a fault: "caught by ...", "survived", or why nothing can be said."""
        sound = (self.place / fault.file).read_bytes()
        planted = sound[: fault.start] + fault.new.encode() + sound[fault.end :]

        def failing(tests: list[str], content: bytes) -> str | None:
            self.write(fault.file, content)
            failed = self.first_failure(tests, limit)
            self.write(fault.file, sound)
            return failed

        told = "survived"
        for number, tests in enumerate(filter(None, stages(self.place, fault, seed))):
            failed, fickle = failing(tests, planted), list[str]()
            while failed:
                if not failing([failed], sound) and failing([failed], planted):
                    return f"caught by {failed}"
                if failed in fickle or len(fickle) == MOST_FICKLE:
                    return f"no word: without the fault, or not always with it, {', '.join(fickle)} fail"
                fickle.append(failed)
                failed = failing([*tests, *(f"--deselect={name}" for name in fickle)], planted)
            if failed is None and number == 0 and failing(tests, sound) == "":
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
    parser.add_argument("--limit", type=float, default=300.0, help="seconds a stage of tests may take")
    parser.add_argument("--floors", nargs="+", default=list(FLOORS), metavar="FLOOR")
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
        where = benches[0].python(["-c", "import vanwater; print(vanwater.__file__)"], 60.0)[1]
        if not where.startswith(str(benches[0].place)):
            raise SystemExit(f"not the copy is imported, but {where}")

        def tried(fault: Fault) -> str:
            bench = free.get()
            try:
                return bench.try_fault(fault, asked.seed, asked.limit)
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
    print(f"{caught} of {len(told)} caught")
    print(
        *(f"{outcome}: {fault}" for fault, outcome in zip(drawn, told, strict=True) if "caught" not in outcome),
        sep="\n",
    )
    return 0


if __name__ == "__main__":
    sys.exit(main())
