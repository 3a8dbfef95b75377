"""A docstring of the physics is its sum: order, parameters and units must agree with the code."""

import ast
import dataclasses
import importlib
import inspect
import pkgutil
import re
import textwrap
import types
import typing

import pytest

import vanwater.physics
import vanwater.plan
import vanwater.system
from tests.over import over
from vanwater.quantities import Quantity

ORDER = ("Parameters", "Returns", "Raises", "Notes", "References", "Examples")
NEEDED = ("Parameters", "Returns", "References", "Examples")

MODULES = [
    importlib.import_module(f"vanwater.physics.{found.name}")
    for found in pkgutil.iter_modules(vanwater.physics.__path__)
    if not found.name.startswith("_")
]
PUBLIC = [(module, name, getattr(module, name)) for module in MODULES for name in getattr(module, "__all__", ())]
FUNCTIONS = [thing for _, _, thing in PUBLIC if inspect.isfunction(thing)]
RECORDS = [
    pytest.param(thing, id=f"{module.__name__.rpartition('.')[2]}.{name}")
    for module, name, thing in PUBLIC
    if inspect.isclass(thing) and dataclasses.is_dataclass(thing)
]


def split(text: str) -> tuple[str, dict[str, str]]:
    """The part before the first section, and the sections by title in their order."""
    lines = text.splitlines()
    heads = [n for n in range(len(lines) - 1) if lines[n] and re.fullmatch(r"-{3,}", lines[n + 1])]
    sections = {}
    for start, end in zip(heads, [*heads[1:], len(lines)], strict=True):
        assert lines[start] not in sections, f"section {lines[start]} comes twice"
        sections[lines[start]] = "\n".join(lines[start + 2 : end]).strip("\n")
    return "\n".join(lines[: heads[0]] if heads else lines).strip(), sections


def items(section: str) -> dict[str, str]:
    """Names and descriptions of a Parameters section; "a, b : float" documents two."""
    found: dict[str, str] = {}
    names: list[str] = []
    for line in section.splitlines():
        if line and not line.startswith(" "):
            names = [name.strip() for name in line.partition(" : ")[0].split(",")]
            assert " : " in line, f'"{line}" is not "name : type"'
            found.update(dict.fromkeys(names, ""))
        else:
            found.update({name: f"{found[name]} {line.strip()}" for name in names})
    return found


def quantity(annotation: object) -> Quantity | None:
    """The quantity that an annotation carries, looked for inside unions too."""
    for part in getattr(annotation, "__metadata__", ()):
        if isinstance(part, Quantity):
            return part
    if typing.get_origin(annotation) in (typing.Union, types.UnionType):
        return next(filter(None, map(quantity, typing.get_args(annotation))), None)
    return None


def units(annotation: object) -> list[str]:
    """The units that a documented value of this annotation must show, in their order."""
    if typing.get_origin(annotation) is tuple:
        return [unit for part in typing.get_args(annotation) for unit in units(part)]
    found = quantity(annotation)
    return [] if found is None else ["-" if found.si == "1" else found.si]


def shown(text: str) -> list[str]:
    """Units in square brackets."""
    return re.findall(r"\[([^\]]+)\]", text)


def hints(thing: object) -> dict[str, object]:
    return typing.get_type_hints(thing, include_extras=True)


def test_the_walk_finds_the_handbook():
    assert len(FUNCTIONS) > 60
    assert {"water", "friction", "pump", "series", "vessel"} <= {m.__name__.rpartition(".")[2] for m in MODULES}


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__.rpartition(".")[2])
def test_public_names_are_sorted_real_and_explained(module):
    assert hasattr(module, "__all__"), "no list of public names"
    assert module.__all__ == sorted(module.__all__, key=lambda name: (not name.isupper(), name[0].islower(), name))
    assert all(hasattr(module, name) for name in module.__all__)
    assert module.__doc__ and module.__doc__.splitlines()[0].endswith(".")


@pytest.mark.parametrize("floor", [vanwater.physics, vanwater.plan, vanwater.system], ids=lambda floor: floor.__name__)
def test_the_contents_page_lists_every_module_and_no_other(floor):
    listed = re.findall(r"^    (\w+) ", floor.__doc__ or "", flags=re.MULTILINE)
    there = [found.name for found in pkgutil.iter_modules(floor.__path__)]
    assert sorted(listed) == sorted(name for name in there if not name.startswith("_"))


@over(FUNCTIONS, lambda function: f"{function.__module__}.{function.__name__}")
def test_sections_stand_in_the_fixed_order(function):
    intro, sections = split(inspect.getdoc(function) or "")
    assert list(sections) == [title for title in ORDER if title in sections]
    needed = [title for title in NEEDED if title != "Parameters" or inspect.signature(function).parameters]
    assert [title for title in needed if not sections.get(title, "").strip()] == []
    summary, *rest = intro.split("\n\n")
    assert "\n" not in summary and summary.endswith(".") and not re.search(r"\.\s", summary), "one sentence, one line"
    formulas = [part for part in rest if part.startswith("Formula: ")]
    assert len(formulas) <= 1 and all("\n" not in formula for formula in formulas)
    assert rest[:1] == formulas[:1] or not formulas, "the formula follows the first sentence"
    assert ">>> " in sections["Examples"]


@over(FUNCTIONS, lambda function: f"{function.__module__}.{function.__name__}")
def test_an_error_that_is_raised_is_documented(function):
    body = ast.parse(textwrap.dedent(inspect.getsource(function)))
    raised = {
        node.exc.func.id
        for node in ast.walk(body)
        if isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call) and isinstance(node.exc.func, ast.Name)
    }
    section = split(inspect.getdoc(function) or "")[1].get("Raises", "")
    assert raised <= set(re.findall(r"^(\w+)$", section, flags=re.MULTILINE))


@over(FUNCTIONS, lambda function: f"{function.__module__}.{function.__name__}")
def test_parameters_and_units_are_those_of_the_code(function):
    documented = items(split(inspect.getdoc(function) or "")[1].get("Parameters", ""))
    annotated = hints(function)
    arguments = list(inspect.signature(function).parameters)
    assert list(documented) == arguments
    for name in arguments:
        assert name in annotated, f"{name} has no annotation"
        assert shown(documented[name])[-1:] == units(annotated[name]), name


@over(FUNCTIONS, lambda function: f"{function.__module__}.{function.__name__}")
def test_the_returned_unit_is_that_of_the_code(function):
    returned = split(inspect.getdoc(function) or "")[1]["Returns"]
    assert hints(function)["return"] is not None
    wanted = units(hints(function)["return"])
    assert shown(returned)[-len(wanted) :] == wanted if wanted else shown(returned) == []


@pytest.mark.parametrize("record", RECORDS)
def test_fields_and_units_of_records_are_those_of_the_code(record):
    sections = split(inspect.getdoc(record) or "")[1]
    documented = items(sections.get("Parameters", ""))
    annotated = hints(record)
    public = [field.name for field in dataclasses.fields(record) if field.init and not field.name.startswith("_")]
    assert list(documented) == public
    for name in public:
        wanted = units(annotated[name])
        assert not wanted or shown(documented[name])[-1:] == wanted, name
