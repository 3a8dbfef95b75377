"""What a function of the physics says about itself: formula, arguments, quantities, source.

Reads the docstring and the annotations once for each function and keeps the result.
"""

from __future__ import annotations

import dataclasses
import inspect
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, get_args, get_type_hints

from vanwater.quantities import Array, Quantity

__all__ = ["Argument", "Documented", "documented", "quantity_of"]

_FORMULA = "Formula:"
_ENTRY = re.compile(r"^(\*{0,2}\w+(?:, *\*{0,2}\w+)*) *(?::|$)")
_UNIT = re.compile(r"\s*\[([^\[\]]+)\]\.?\s*$|\s*\[([^\[\]]+)\](?=[.,;:]?(?:\s|$))")
_ROLE = re.compile(r":\w+:`~?([^`]+)`")
_SYMBOL = re.compile(r"^(?P<meaning>.*\S), (?P<symbol>[^\s,]{1,12})$", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Argument:
    """One argument of a function.

    Parameters
    ----------
    meaning : str
        What it is, without symbol and unit.
    symbol : str
        Its letter in the formula, or an empty text.
    unit : str
        The unit that the docstring names, or an empty text.
    quantity : Quantity, optional
        The quantity of its annotation.
    series : bool
        Whether it is always a whole array, such as the points of a curve.
    default : object
        Its value when it is not given, or None.
    """

    meaning: str = ""
    symbol: str = ""
    unit: str = ""
    quantity: Quantity | None = None
    series: bool = False
    default: object = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Documented:
    """What a function says about itself.

    Parameters
    ----------
    name : str
        Its name, with module.
    meaning : str
        The first sentence.
    formula : str
        The formula in one line, or an empty text.
    arguments : mapping of str to Argument
        In the order of the signature.
    returns : Argument
        The result itself.
    fields : mapping of str to Argument
        The fields of the result, where it is a dataclass.
    note, source : str
        The sections Notes and References, each as running text.
    """

    name: str
    meaning: str
    formula: str
    arguments: Mapping[str, Argument]
    returns: Argument
    fields: Mapping[str, Argument]
    note: str
    source: str

    def result(self, take: str = "") -> tuple[Quantity, str]:
        """Quantity and meaning of the result, or of the field of it that is taken.

        Raises
        ------
        ValueError
            When it has no quantity, or the field is missing.
        """
        if take and take not in self.fields:
            fields = ", ".join(self.fields) or "none"
            raise ValueError(f'take: "{take}" is no field of the result of {self.name}; its fields: {fields}')
        quantity = (self.fields[take] if take else self.returns).quantity
        if quantity is None:
            slip = f"; take one of its fields: {', '.join(self.fields)}" if self.fields and not take else ""
            raise ValueError(f"{self.name}: {take or 'the result'} is annotated with no quantity{slip}")
        return quantity, self.fields[take].meaning if take else ""


@lru_cache(maxsize=1024)
def documented(function: Callable[..., object]) -> Documented:
    """Read what a function says about itself; kept for each function.

    Parameters
    ----------
    function : callable
        A function with a docstring in the order of this package's handbook.

    Returns
    -------
    Documented
        Formula, arguments with their quantities, and source.

    Raises
    ------
    TypeError
        When it is no plain function.
    """
    if not inspect.isfunction(function):
        raise TypeError(f"{function!r} is no plain function; its docstring cannot be read")
    sections = _sections(inspect.getdoc(function) or "")
    opening = sections[""].split("\n\n")
    formula = next((part.strip() for part in opening if part.strip().startswith(_FORMULA)), "")
    formula = " ".join(formula.removeprefix(_FORMULA).split())
    hints = get_type_hints(function, include_extras=True)
    entries = dict(_entries(sections.get("Parameters", "")))
    arguments = {}
    for name, parameter in inspect.signature(function).parameters.items():
        default = None if parameter.default is inspect.Parameter.empty else parameter.default
        arguments[name] = _argument(entries.get(name, ""), hints.get(name), formula, default)
    returns = "\n".join(sections.get("Returns", "").split("\n")[1:])
    return Documented(
        name=f"{function.__module__}.{function.__qualname__}",
        meaning=" ".join(opening[0].split()),
        formula=formula,
        arguments=arguments,
        returns=_argument(returns, hints.get("return"), formula),
        fields=_fields(hints.get("return"), formula),
        note=_running(sections.get("Notes", "")),
        source=_running(sections.get("References", "")),
    )


def _fields(result: Any, formula: str) -> dict[str, Argument]:
    if not (isinstance(result, type) and dataclasses.is_dataclass(result)):
        return {}
    sections = _sections(inspect.getdoc(result) or "")
    entries = dict(_entries(sections.get("Parameters", "") or sections.get("Attributes", "")))
    hints = get_type_hints(result, include_extras=True)
    return {
        field.name: _argument(entries.get(field.name, ""), hints[field.name], formula)
        for field in dataclasses.fields(result)
    }


def _sections(doc: str) -> dict[str, str]:
    """Text by section title; what stands before the first title under the empty one."""
    sections: dict[str, list[str]] = {"": []}
    lines, title = doc.split("\n"), ""
    for number, line in enumerate(lines):
        below = lines[number + 1] if number + 1 < len(lines) else ""
        if line.strip() and below.strip() and set(below.strip()) == {"-"} and len(below.strip()) >= 3:
            title = line.strip()
            sections[title] = []
        elif not (title and line.strip() and set(line.strip()) == {"-"}):
            sections[title].append(line)
    return {name: "\n".join(part).strip("\n") for name, part in sections.items()}


def _entries(section: str) -> Iterator[tuple[str, str]]:
    """Name and description of each documented parameter."""
    names: list[str] = []
    described: list[str] = []
    for line in (*section.split("\n"), "end"):
        if line and not line[0].isspace():
            yield from ((name, "\n".join(described)) for name in names)
            match = _ENTRY.match(line)
            names = [name.strip().lstrip("*") for name in match[1].split(",")] if match else []
            described = []
        else:
            described.append(line)


def _argument(described: str, hint: Any, formula: str, default: object = None) -> Argument:
    text = _running(described)
    unit = _UNIT.search(text)
    first = text[: unit.start()] if unit else text.rstrip(".")
    match = _SYMBOL.match(first)
    symbol = match["symbol"] if match and _stands_in(match["symbol"], formula) else ""
    meaning = match["meaning"] if match and symbol else first
    quantity, series = quantity_of(hint)
    return Argument(meaning, symbol, (unit[1] or unit[2]) if unit else "", quantity, series, default)


def _stands_in(symbol: str, formula: str) -> bool:
    """Whether a formula holds a symbol and not only a longer word around it."""
    word = symbol[:1].isascii() and symbol[:1].isalpha() and len(symbol) > 2
    return symbol in formula and (not word or re.search(rf"(?<!\w){re.escape(symbol)}(?!\w)", formula) is not None)


def quantity_of(hint: Any) -> tuple[Quantity | None, bool]:
    """The quantity of an annotation, and whether it takes whole arrays only.

    Parameters
    ----------
    hint : object
        The annotation, with what it is annotated with.

    Returns
    -------
    tuple
        The quantity, None where it has none, and True for whole arrays.
    """
    for extra in getattr(hint, "__metadata__", ()):
        if isinstance(extra, Quantity):
            return extra, get_args(hint)[0] == Array
    for inner in get_args(hint):
        quantity, series = quantity_of(inner)
        if quantity is not None:
            return quantity, series
    return None, False


def _running(text: str) -> str:
    """Lines of a section as running text, an empty line kept as the end of a sentence."""
    return _ROLE.sub(r"\1", " ".join(line.strip() for line in text.split("\n") if line.strip()))
