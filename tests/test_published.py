"""Published values against the physics: one row of ``data/validation/*.csv`` is one test, named by its source.

How to add a value: write a row into the CSV of its subject (a new subject is a new file, nothing to register).

- ``function``: name under ``vanwater.physics``: a function ("friction.reynolds"), a constant
  ("water.LATENT_HEAT_OF_FUSION"), or a field of a record that a function returns ("series.series_flow:flow").
- ``inputs``: JSON of its keyword arguments. A number is SI; "40 mm" is a number and a unit that the argument's
  quantity knows (its believable range does not count here, textbooks use bigger pipes); a list is an array;
  ``{"function": ..., "inputs": ...}`` is another step or record worked out first.
- ``expected`` in ``unit`` is the printed value and stays so; ``tolerance_kind`` says how near is near enough: "rel" (a
  share of it), "abs" (in the unit), "inside" (expected reads "low to high"). A gap's reason belongs in ``note``.
- ``value_basis`` says how the value was read: seen, from memory, by a public notebook of the examples.

``python tests/test_published.py`` writes the whole table, each value beside the physics' own, as Markdown.
"""

import csv
import functools
import importlib
import inspect
import itertools
import json
import math
import sys
import typing
from pathlib import Path

import numpy as np
import pytest

from tests.physics.networks import PUBLISHED
from tests.validation_page import laws, network_table, peers, two_laws
from vanwater.quantities import Quantity, Unit

FOLDER = Path(__file__).parents[1] / "data" / "validation"
COLUMNS = ["id", "title", "function", "inputs", "quantity", "expected", "unit", "tolerance", "tolerance_kind"]
COLUMNS += ["source", "value_basis", "note"]
ELSEWHERE = {"tables", "left_out", "summary"}
"""Files of another form: stock sizes and fittings, which ``tests/test_tables_content.py`` compares cell by cell, and
published cases that are no row, each with the reason."""
KINDS = ("rel", "abs", "inside")
OTHER_UNITS = {"N (g = 9.81 m/s²)": Unit(1.0 / 9.81)}
"""Units of sources that no quantity of the vocabulary knows: loads printed as forces."""


def read(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file, strict=True))


def cases() -> list[dict[str, str]]:
    """All rows, each with the name of its file as "subject"."""
    found = []
    for path in sorted(path for path in FOLDER.glob("*.csv") if path.stem not in ELSEWHERE):
        found += [{"subject": path.stem, **row} for row in read(path)]
    return found


def quantity(annotation: object) -> Quantity | None:
    """The quantity an annotation carries, looked for inside unions too."""
    for part in getattr(annotation, "__metadata__", ()):
        if isinstance(part, Quantity):
            return part
    return next(filter(None, map(quantity, typing.get_args(annotation))), None)


def named(name: str) -> tuple[object, dict[str, object]]:
    """A thing of the physics by its dotted name, and its annotations."""
    module_name, _, thing = name.rpartition(".")
    module = importlib.import_module(f"vanwater.physics.{module_name}")
    found = getattr(module, thing)
    return found, hints(found if callable(found) else module)


@functools.cache
def hints(thing: object) -> dict[str, object]:
    return typing.get_type_hints(thing, include_extras=True)


def value(given: object, annotation: object) -> object:
    """An input as the function takes it."""
    if isinstance(given, dict):
        return computed(given["function"], given["inputs"])[0]
    if isinstance(given, list):
        parts = [value(part, annotation) for part in given]
        return np.array(parts) if all(isinstance(part, int | float | np.number) for part in parts) else parts
    known = quantity(annotation)
    if isinstance(given, str) and known is not None:
        number, _, unit = given.partition(" ")
        return known.spellings[unit].to_si(float(number))
    return float(given) if isinstance(given, int) and not isinstance(given, bool) else given


def computed(function: str, inputs: dict[str, object]) -> tuple[object, Quantity | None]:
    """What the physics gives for a row, and its quantity."""
    name, _, field = function.partition(":")
    thing, annotated = named(name)
    if not callable(thing):
        return thing, quantity(annotated[name.rpartition(".")[2]])
    result = thing(**{key: value(given, annotated.get(key)) for key, given in inputs.items()})
    if field:
        return getattr(result, field), quantity(hints(type(result))[field])
    return result, None if inspect.isclass(thing) else quantity(annotated["return"])


def shown(case: dict[str, str]) -> float:
    """The physics' own value in the unit of the row."""
    result, known = computed(case["function"], json.loads(case["inputs"]))
    units = OTHER_UNITS if known is None else {**known.spellings, **OTHER_UNITS}
    if known is not None and known.si == "1":
        units = {"": Unit(1.0), **units}
    return float(units[case["unit"]].from_si(float(np.asarray(result))))


def bounds(case: dict[str, str]) -> tuple[float, float]:
    """Between what the physics' value must lie."""
    if case["tolerance_kind"] == "inside":
        low, high = map(float, case["expected"].split(" to "))
        return low, high
    expected, tolerance = float(case["expected"]), float(case["tolerance"])
    margin = tolerance * abs(expected) if case["tolerance_kind"] == "rel" else tolerance
    return expected - margin, expected + margin


def markdown() -> str:
    """The validation table: every published value beside the physics' own."""
    lines = ["| id | case | quantity | published | vanwater | unit | tolerance | source | read |", "|---" * 9 + "|"]
    for case in cases():
        tolerance = f"{case['tolerance']} {case['tolerance_kind']}"
        fields = (case["id"], case["title"], case["quantity"], case["expected"], f"{shown(case):.5g}", case["unit"])
        lines.append("| " + " | ".join((*fields, tolerance, case["source"], case["value_basis"])) + " |")
    return "\n".join(lines)


SUMMARY = FOLDER / "summary.csv"
SUMMED = ("kind", "cases", "seen", "sources", "worst", "of", "source")


def deviation(case: dict[str, str]) -> float:
    """How far the physics' value is from the printed one, as a share; from the nearer end where two are printed."""
    value, ends = shown(case), [float(end) for end in case["expected"].split(" to ")]
    nearest = min(max(value, ends[0]), ends[-1])
    return abs(value - nearest) / abs(nearest) if nearest else 0.0 if value == nearest else math.inf


def summed() -> list[dict[str, str]]:
    return [case for case in cases() if not case["value_basis"].startswith("taken from")]


def summary() -> str:
    """Each kind of sum with the number of its cases and the one that is furthest off, as the file tells it.

    What is taken from its source proves no sum and is not counted.
    """
    lines = [",".join(SUMMED)]
    for kind, group in itertools.groupby(summed(), lambda case: case["subject"]):
        rows = list(group)
        seen = sum(row["value_basis"].startswith("seen") for row in rows)
        worst = max(rows, key=deviation)
        told = (kind.replace("_", " "), str(len(rows)), str(seen), str(len({row["source"] for row in rows})))
        told = (*told, f"{deviation(worst):.2g}", worst["title"], worst["source"])
        lines.append(",".join(f'"{text}"' for text in told))
    return "\n".join(lines) + "\n"


PAGE = Path(__file__).resolve().parents[1] / "data" / "validation" / "README.md"
HEAD = """# Published values and what vanwater gives

Made by `python tests/test_published.py write`; do not edit. Every row of the CSV files beside this page is computed
anew in each test run. The printed value stays the expectation; "read" says how it was seen. The two vans of
`worked_vans.json` were invented and worked by hand independently; `tests/answers/` asks them as whole plans.

**No bench log of a real rig is among these.** To bring one: pump volts, a gauge behind the pump, one before the outlet,
a bucket and a watch; put the pump's points and the outlet's litres into a plan, and compare `vanwater check` with the
bucket.

"""


SIZES = """{count} printed values of stock sizes, equivalent lengths, ratios L/D and materials (of hyd-10, 16 and 29
among them) stand in `tables.csv`; `tests/test_tables_content.py` compares each with the tables that a plan reads."""


def left_out() -> str:
    """Published cases that are no row, each with the reason."""
    rows = read(FOLDER / "left_out.csv")
    lines = ["| id | case | source | why it is no row |", "|---" * 4 + "|"]
    return "\n".join([*lines, *("| " + " | ".join(row.values()) + " |" for row in rows)])


def page() -> str:
    """The generated page."""
    tables = read(FOLDER / "tables.csv")
    sections = {
        "Values of formulas": markdown(),
        "Two laws for plastic tube": two_laws(cases()),
        "A whole network, by other programs": network_table(),
        "Sizes and fittings": SIZES.format(count=len(tables)),
        "Left out": left_out(),
    }
    return HEAD + "\n".join(f"## {title}\n\n{text}\n" for title, text in sections.items())


def test_the_summary_that_goes_with_every_file_is_as_generated():
    assert SUMMARY.read_text(encoding="utf-8") == summary(), "run: python tests/test_published.py write"
    rows = read(SUMMARY)
    assert sum(int(row["cases"]) for row in rows) == len(summed()) > 80
    assert all(math.isfinite(float(row["worst"])) for row in rows)


def test_the_page_is_as_generated():
    assert PAGE.read_text(encoding="utf-8") == page(), "run: python tests/test_published.py write"


@pytest.mark.parametrize("case", cases(), ids=lambda case: f"{case['id']}: {case['source']}, {case['quantity']}")
def test_published_value(case):
    low, high = bounds(case)
    assert low <= shown(case) <= high, case["note"]


def test_the_rows_are_complete():
    found = cases()
    assert len(found) > 80
    assert all(list(case) == ["subject", *COLUMNS] for case in found)
    assert len({case["id"] for case in found}) == len(found)
    for case in found:
        required = ("id", "title", "function", "inputs", "quantity", "expected", "source", "value_basis")
        assert all(case[name] for name in required), case["id"]
        assert case["tolerance_kind"] in KINDS, case["id"]
        assert all(math.isfinite(bound) for bound in bounds(case)), case["id"]


def test_what_is_left_out_is_no_row_and_says_why():
    rows, others = [case["id"] for case in cases()], read(FOLDER / "left_out.csv")
    assert others
    assert len({row["id"] for row in others}) == len(others)
    for row in others:
        assert list(row) == ["id", "title", "source", "reason"]
        assert all(row.values()), row["id"]
        assert row["id"] not in rows
        assert not [one for one in rows if one.startswith(row["id"] + "-")], f"{row['id']} is a row by now"


def test_the_two_laws_part_as_the_flow_falls():
    """The printed table follows Hazen-Williams; Darcy-Weisbach lies above it, most where the flow is least."""
    for tube in {law.tube for law in laws(cases())}:
        own = sorted((law for law in laws(cases()) if law.tube == tube), key=lambda law: law.flow)
        assert len(own) > 3
        assert sum(not math.isnan(law.printed) for law in own) == 1
        for law in own:
            if not math.isnan(law.printed):
                assert law.hazen_williams == pytest.approx(law.printed, rel=0.02)
            assert law.darcy_weisbach == pytest.approx(law.judge(), rel=1e-9)
        above = [law.darcy_weisbach / law.hazen_williams for law in own]
        assert above == sorted(above, reverse=True)
        assert 1.02 < above[-1] < above[0] < 1.3


def test_the_network_table_counts_every_case():
    counted = {peer.program: peer for peer in peers()}
    assert set(counted) == set(PUBLISHED["laws"])
    for peer in counted.values():
        assert peer.cases == len(PUBLISHED["cases"])
        assert 0 < peer.turbulent < peer.cases
        assert peer.flow_turbulent < 1e-3
        assert peer.flow_turbulent <= peer.flow_all
    assert counted["twin_of_epanet"].flow_all < 1e-9


def test_the_table_shows_every_row():
    table = markdown().splitlines()
    assert [line.split(" | ")[0].removeprefix("| ") for line in table[2:]] == [case["id"] for case in cases()]


if __name__ == "__main__":
    if sys.argv[1:] == ["write"]:
        PAGE.write_text(page(), encoding="utf-8")
        SUMMARY.write_text(summary(), encoding="utf-8")
    else:
        print(page())  # noqa: T201 - the page itself


@pytest.mark.parametrize("case", cases(), ids=lambda case: case["id"])
def test_a_constant_beside_itself_is_said_to_be_taken(case):
    """A constant of the package against the page that it comes from, or a node of a table, proves no sum."""
    constant = not callable(named(case["function"].partition(":")[0])[0]) and float(case["tolerance"]) == 0
    node = case["function"] == "scald.scald_time" and case["tolerance_kind"] == "abs"
    assert (constant or node) == case["value_basis"].startswith("taken from")


def test_the_scald_times_are_checked_between_the_nodes_too():
    between = [case for case in cases() if case["function"] == "scald.scald_time" and case["tolerance_kind"] == "rel"]
    assert len(between) >= 2
