"""The command ``vanwater``: what is typed, what is done, how it ends.

It stands above terminal, document and panels, so that these need not know each other. Ends with 0 when all was
computed, with 1 when ``--strict`` was asked and a finding fails, with 2 when something typed or planned cannot
be used, with 70 after a fault of the program itself (EX_SOFTWARE of sysexits.h). Parts of the package are imported
when a command needs them, so that each starts quickly.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

import vanwater
from vanwater.terminal.memory import uncollected

if TYPE_CHECKING:
    from vanwater.answers.questions import Answers
    from vanwater.document.output_file import Kind
    from vanwater.plan.file import PlanFile
    from vanwater.terminal.screen import Screen

__all__ = ["main"]

COMPUTED, FAILING, BAD_INPUT, FAULT, NOT_WRITTEN, INTERRUPTED = 0, 1, 2, 70, 74, 130

_FAULT = "This is a fault of vanwater, not of your plan: no answer was given.\n"


def main(argv: Sequence[str] | None = None) -> int:
    """Do what was typed.

    Parameters
    ----------
    argv : sequence of str, optional
        The words behind the program's name; those of the process without it.

    Returns
    -------
    int
        The exit code.

    Raises
    ------
    SystemExit
        From the parser, after ``--help``, ``--version`` or words that it does not know.
    """
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:  # closed before the program began
            setattr(sys, name, Path(os.devnull).open("w", encoding="utf-8"))  # noqa: SIM115
    try:
        code = _run(argv)
        _write(sys.stdout, "")
    except KeyboardInterrupt:
        code = INTERRUPTED
    except _NotWrittenError as lost:
        _write(sys.stderr, f"The output cannot be written: {lost}.\n")
        code = NOT_WRITTEN
    except Exception:  # whatever it is, it is no verdict on a plan
        import traceback

        _write(sys.stderr, f"{traceback.format_exc()}\n{_FAULT}")
        code = FAULT
    return code


def _run(argv: Sequence[str] | None) -> int:
    from vanwater.terminal.command_line import parser_of

    parser = parser_of(_COMMANDS, vanwater.__version__)
    try:
        asked = parser.parse_args(argv)
    except SystemExit:  # after --help or --version
        _write(sys.stdout, "")
        raise
    if asked.command is None:
        _write(sys.stderr, parser.format_help())
        return BAD_INPUT
    from vanwater.plan.problems import PlanError
    from vanwater.terminal.refusal import RefusedError, complaint, problems

    try:
        return int(asked.command(asked))
    except PlanError as error:
        _write(sys.stderr, complaint(problems(error), sys.stderr))
    except RefusedError as refusal:
        _write(sys.stderr, complaint(str(refusal).split("\n"), sys.stderr))
    return BAD_INPUT


@uncollected()
def _check(asked: argparse.Namespace) -> int:
    if asked.plan is None and asked.why:  # "check --why van.toml" lists the keys of van.toml
        asked.plan, asked.why = asked.why, ""
    if asked.json_schema:
        import json

        from vanwater.terminal.json_schema import json_schema

        _write(sys.stdout, json.dumps(json_schema(), indent=2) + "\n")
        return COMPUTED
    if asked.plan is None:
        asked.error("the following arguments are required: PLAN")
    if asked.json and asked.units:
        asked.error("argument --units: not allowed with argument --json, whose numbers are in SI")
    from vanwater.answering import answered

    file, answers = answered(asked.plan, asked.situation)
    if asked.json:
        from vanwater.terminal.json_form import json_text

        _write(sys.stdout, json_text(answers, vanwater.__version__, sys.stdout.encoding or "ascii"))
    else:
        from vanwater.terminal.screen import Screen

        us = _us(asked, file)
        _say(_text(asked, file, answers.read_in(us), Screen.of(sys.stdout, us)))
    failing = asked.strict and any(each.failing for each in (answers, *answers.situations.values()))
    return FAILING if failing else COMPUTED


def _us(asked: argparse.Namespace, file: PlanFile) -> bool:
    return file.plan.us if asked.units is None else bool(asked.units == "us")


def _text(asked: argparse.Namespace, file: PlanFile, answers: Answers, screen: Screen) -> list[str]:
    from vanwater.terminal import overview
    from vanwater.terminal.why import why

    if asked.why is not None:
        return why(asked.why, file, answers, screen)
    return overview.everything(answers, screen) if asked.all else overview.overview(answers, screen)


def _new(asked: argparse.Namespace) -> int:
    from vanwater.terminal.starter import start

    start(asked.file, full=asked.full)
    _tell(
        f"{asked.file} is written: a plan that is complete as it is{', with every field explained' * asked.full}.",
        f"Change it to your van, then: vanwater check {asked.file}",
    )
    return COMPUTED


def _stock(asked: argparse.Namespace) -> int:
    from vanwater.plan.file import read
    from vanwater.plan.stock import Shelf
    from vanwater.terminal.screen import Screen
    from vanwater.terminal.stock import stock_lines

    file = read(asked.plan) if asked.plan is not None else None
    us = asked.units == "us" if asked.units or file is None else file.plan.us
    shelf = file.plan.own_shelf if file is not None else Shelf()
    _say(stock_lines(" ".join(asked.word), shelf, Screen.of(sys.stdout, us)))
    return COMPUTED


def _compare(asked: argparse.Namespace) -> int:
    from vanwater.plan.file import read
    from vanwater.terminal.compare import files_compared
    from vanwater.terminal.screen import Screen

    file, *others = (read(path) for path in (asked.plan, *asked.others))
    if asked.output is None:
        _say(files_compared(file, others, Screen.of(sys.stdout, _us(asked, file)), everything=asked.all))
        return COMPUTED
    from vanwater.document.change_order import change_between
    from vanwater.document.output_file import form_of

    form = form_of(asked.output)
    place = _place(asked, "change", form)
    _put({place: change_between(file, others, us=_us(asked, file))}, form)
    _tell(f"{place} is written as {form.name}.")
    return COMPUTED


def _document(asked: argparse.Namespace) -> int:
    from vanwater.document.output_file import PAPERS, form_of
    from vanwater.document.writings import WRITINGS, Subject

    form = form_of(asked.output)
    readers = PAPERS if asked.reader == "all" else (asked.reader,)
    places = {reader: _place(asked, reader, form) for reader in readers}
    from vanwater.answering import answered

    file, answers = answered(asked.plan, asked.situation)
    from vanwater.document.history import fingerprint_told

    us = _us(asked, file)
    _put({place: WRITINGS[reader].text(Subject(answers=answers, us=us)) for reader, place in places.items()}, form)
    named = " and ".join(str(place) for place in places.values())
    told = f"{'is' if len(places) == 1 else 'are each'} written as {form.name}."
    _tell(answers.read_in(us).headline.text(us), f"{named} {told}", *fingerprint_told(answers.plan))
    return COMPUTED


def _draw(asked: argparse.Namespace) -> int:
    from vanwater.document.output_file import DRAWING
    from vanwater.document.writings import WRITINGS, Subject
    from vanwater.terminal.refusal import RefusedError

    scale = asked.view == "scale"
    if scale and (asked.outlet or asked.shows == "loss"):
        asked.error(f"argument --{'outlet' if asked.outlet else 'shows'}: not allowed with --view scale")
    place = _place(asked, asked.view, DRAWING)
    from vanwater.answering import answered

    file, answers = answered(asked.plan, asked.situation)
    of = Subject(answers=answers, us=_us(asked, file), shows=asked.shows, outlet=asked.outlet or "")
    try:
        drawing = WRITINGS[asked.view].text(of)
    except KeyError as unknown:
        raise RefusedError(unknown.args[0]) from None
    _put({place: drawing}, DRAWING)
    _tell(f"{place} is written, a drawing for any browser.")
    return COMPUTED


def _card(asked: argparse.Namespace) -> int:
    from vanwater.document.output_file import form_of
    from vanwater.document.writings import WRITINGS, Subject

    form = form_of(asked.output)
    place = None if asked.csv else _place(asked, "card", form)
    from vanwater.answering import answered

    file, answers = answered(asked.plan, asked.situation)
    text = WRITINGS["tags" if asked.csv else "card"].text(Subject(answers=answers, us=_us(asked, file)))
    if place is None:
        _write(sys.stdout, text)
        return COMPUTED
    _put({place: text}, form)
    _tell(f"{place} is written as {form.name}, one sheet: print it and laminate it.")
    return COMPUTED


def _parts(asked: argparse.Namespace) -> int:
    from vanwater.document.order_csv import order_csv
    from vanwater.plan.file import read
    from vanwater.terminal.order_list import parts_lines
    from vanwater.terminal.screen import Screen

    file = read(asked.plan)
    plan = file.plan.read_in(_us(asked, file))
    if asked.csv:
        _write(sys.stdout, order_csv(plan))
    else:
        _say(parts_lines(plan, Screen.of(sys.stdout, plan.us)))
    return COMPUTED


def _place(asked: argparse.Namespace, key: str, kind: Kind) -> Path:
    """Where something that is written goes: what was typed, else the plan's name here; of several with its reader."""
    from vanwater.document.output_file import NotWrittenError, target
    from vanwater.document.writings import WRITINGS, file_name
    from vanwater.terminal.refusal import RefusedError

    plan, several, output = Path(asked.plan), getattr(asked, "reader", "") == "all", asked.output
    if output is None:
        output = Path(file_name(WRITINGS[key], plan.stem, asked.situation or "", kind))
    elif several and WRITINGS[key].behind:
        output = output.with_stem(f"{output.stem} {WRITINGS[key].behind}")
    try:
        return target(output, plan, kind)
    except NotWrittenError as error:
        raise RefusedError(str(error)) from None


def _put(papers: Mapping[Path, str], form: Kind) -> None:
    """Write papers or a drawing, all of them or none; what stands against it is told in a sentence."""
    from vanwater.document.output_file import NotWrittenError, not_written
    from vanwater.document.papers import in_form
    from vanwater.plan.saving import replace_files
    from vanwater.terminal.refusal import RefusedError

    try:
        replace_files({place: in_form(text, form) for place, text in papers.items()})
    except NotWrittenError as why:
        raise RefusedError(str(why)) from None
    except OSError as error:
        raise RefusedError(str(not_written(error.filename or next(iter(papers)), error))) from None


def _lab(asked: argparse.Namespace) -> int:
    from vanwater.terminal import lab

    lab.require()
    plan = Path(asked.plan) if asked.plan is not None else None
    if plan is not None and not plan.is_file():
        from vanwater.plan.file import read

        read(plan)  # says what it is instead
    from vanwater.panels.execute import Interpreter
    from vanwater.panels.notebook_folder import NotebookFolder

    folder = lab.folder_for(plan)
    with Interpreter() as interpreter:
        notebooks = NotebookFolder(folder=folder, interpreter=interpreter, plan=plan, fresh=asked.fresh)
        try:
            notebooks.begin()
        except OSError as error:
            raise lab.cannot_write(folder, error) from None
        _tell(*notebooks.notes(), *lab.OPENING)
        return lab.open_lab(folder, plan, meanwhile=lambda: _tell(notebooks.finish()))


def _tell(*sentences: str) -> None:
    """Say what was done; the names of files in it are only ever text."""
    from vanwater.terminal.screen import Screen

    screen = Screen.of(sys.stdout)
    _say(line for sentence in sentences for line in screen.paragraph(sentence))


def _say(lines: Iterable[str]) -> None:
    _write(sys.stdout, "".join(f"{line}\n" for line in lines))


class _NotWrittenError(Exception):
    """What was to be told found no place, such as a disk that is full."""


def _write(stream: TextIO, text: str) -> None:
    """Write to a stream; when nobody reads it any more, the rest goes nowhere and quietly."""
    try:
        stream.write(text)
        stream.flush()
    except OSError as error:
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
        if stream is sys.stdout and not isinstance(error, BrokenPipeError):
            raise _NotWrittenError(error.strerror) from None


_DOES = (_check, _new, _stock, _compare, _document, _draw, _card, _parts, _lab)
_COMMANDS = {does.__name__[1:]: does for does in _DOES}
"""What each command does."""
