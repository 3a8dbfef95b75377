"""The command ``vanwater``: what is typed, what is done, how it ends.

It stands above terminal, document and panels, so that these need not know each other. Ends with 0 when all was
computed, with 1 when ``--strict`` was asked and a finding fails, with 2 when something typed or planned cannot
be used, with 70 after a fault of the program itself (EX_SOFTWARE of sysexits.h). Parts of the package are imported
when a command needs them, so that each starts quickly.
"""

from __future__ import annotations

import argparse
import dataclasses
import os
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

import vanwater

if TYPE_CHECKING:
    from vanwater.answers.questions import Answers
    from vanwater.plan.file import PlanFile
    from vanwater.terminal.screen import Screen

__all__ = ["main"]

COMPUTED, FAILING, BAD_INPUT, FAULT, NOT_WRITTEN, INTERRUPTED = 0, 1, 2, 70, 74, 130

_ABOUT = """\
Plan the water of a camper van before a hole is cut: how many days it lasts,
what the shower gives, and why.

  vanwater new van.toml                     write a commented plan to begin with
  vanwater stock hose                       what a plan may name: hoses, pumps ...
  vanwater check van.toml                   the answers, in a screenful
  vanwater check van.toml --why days.fresh  one number unfolded to its sum
  vanwater document van.toml -o van.html    the same for the customer, as a page
  vanwater lab van.toml                     notebooks with sliders
"""
_ENDS = """\
Ends with 0 when all was computed, 1 with --strict and a failing finding,
2 on input that cannot be used, 70 after a fault of vanwater itself,
74 when the output cannot be written.
"""
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
    parser = _parser()
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


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="vanwater",
        description=_ABOUT,
        epilog=_ENDS,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"vanwater {vanwater.__version__}")
    parser.set_defaults(command=None)
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")

    check = commands.add_parser(
        "check",
        help="answer every question about a plan",
        usage="vanwater check PLAN [--situation NAME] [--units {metric,us}]\n"
        "                           [--why [KEY] | --all | --json] [--strict]\n"
        "       vanwater check --json-schema",
        epilog=_ENDS,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    check.add_argument("plan", metavar="PLAN", nargs="?", help="the plan's file, such as van.toml")
    _units(check)
    form = check.add_mutually_exclusive_group()
    form.add_argument(
        "--why", metavar="KEY", nargs="?", const="", help="unfold a number to its sum, or an address of the plan"
    )
    form.add_argument("--all", action="store_true", help="every table, finding and assumption, with sources")
    form.add_argument("--json", action="store_true", help="every number in SI, for programs")
    form.add_argument("--json-schema", action="store_true", help="the JSON Schema of --json; needs no plan")
    check.add_argument("--situation", metavar="NAME", help="the plan in one of its situations")
    check.add_argument("--strict", action="store_true", help="end with 1 when a finding fails, in any situation")
    check.set_defaults(command=lambda asked: _check(asked, check))

    new = commands.add_parser("new", help="write a commented plan to begin with", allow_abbrev=False)
    new.add_argument("file", metavar="FILE", type=Path, help="a file that does not exist yet")
    new.add_argument("--full", action="store_true", help="with every field of a plan, explained")
    new.set_defaults(command=_new)

    stock = commands.add_parser("stock", help="list what a plan may name", allow_abbrev=False)
    stock.add_argument("word", metavar="WORD", nargs="*", help="a kind, such as pumps or joints, or a word of a row")
    stock.add_argument("--plan", metavar="PLAN", help="a plan, whose shelf is listed too")
    _units(stock)
    stock.set_defaults(command=_stock)

    document = commands.add_parser("document", help="write the answers as a page for the customer", allow_abbrev=False)
    document.add_argument("plan", metavar="PLAN", help="the plan's file")
    document.add_argument("--situation", metavar="NAME", help="the plan in one of its situations")
    document.add_argument(
        "-o", "--output", metavar="FILE", type=Path, help="the page; PLAN.html here without it, or PLAN NAME.html"
    )
    _units(document)
    document.set_defaults(command=_document)

    lab = commands.add_parser("lab", help="open the notebooks", allow_abbrev=False)
    lab.add_argument("plan", metavar="PLAN", nargs="?", help="the plan that they begin with")
    lab.set_defaults(command=_lab)
    return parser


def _units(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--units", choices=("metric", "us"), help="units to show; the plan's own without it")


def _check(asked: argparse.Namespace, parser: argparse.ArgumentParser) -> int:
    if asked.plan is None and asked.why:  # "check --why van.toml" lists the keys of van.toml
        asked.plan, asked.why = asked.why, ""
    if asked.json_schema:
        import json

        from vanwater.terminal.json_schema import json_schema

        _write(sys.stdout, json.dumps(json_schema(), indent=2) + "\n")
        return COMPUTED
    if asked.plan is None:
        parser.error("the following arguments are required: PLAN")
    if asked.json and asked.units:
        parser.error("argument --units: not allowed with argument --json, whose numbers are in SI")
    file, answers = _answered(asked.plan, asked.situation)
    if asked.json:
        from vanwater.terminal.json_form import json_text

        _write(sys.stdout, json_text(answers, vanwater.__version__, sys.stdout.encoding or "ascii"))
    else:
        from vanwater.terminal.screen import Screen

        us = _us(asked, file)
        _say(_text(asked, file, answers.read_in(us), Screen.of(sys.stdout, us)))
    failing = asked.strict and any(each.failing for each in (answers, *answers.situations.values()))
    return FAILING if failing else COMPUTED


def _answered(path: str, situation: str | None = None) -> tuple[PlanFile, Answers]:
    from vanwater.answers.questions import answers_to
    from vanwater.plan.file import read
    from vanwater.terminal.refusal import RefusedError

    file = read(path)
    if situation is not None:
        try:
            file = dataclasses.replace(file, plan=file.plan.in_situation(situation))
        except KeyError as unknown:
            raise RefusedError(unknown.args[0]) from None
    return file, answers_to(file.plan)


def _us(asked: argparse.Namespace, file: PlanFile) -> bool:
    return file.plan.us if asked.units is None else bool(asked.units == "us")


def _text(asked: argparse.Namespace, file: PlanFile, answers: Answers, screen: Screen) -> list[str]:
    from vanwater.terminal import overview

    if asked.why is not None:
        return _why(asked.why, file, answers, screen)
    return overview.everything(answers, screen) if asked.all else overview.overview(answers, screen)


def _why(wanted: str, file: PlanFile, answers: Answers, screen: Screen) -> list[str]:
    from vanwater.terminal import address, unfold
    from vanwater.terminal.wanted import matching

    if not wanted.strip():
        return unfold.keys(answers, screen)
    numbers = unfold.numbers_of(answers)
    if wanted not in numbers and address.stands(file.plan, wanted):
        return address.explained(wanted, file, answers, screen)
    judged = unfold.judged_by(answers)
    meant = matching(wanted, {key: number.name for key, number in numbers.items()})
    meant = meant or matching(wanted, {key: finding.statement.text() for key, finding in judged.items()})
    if len(meant) != 1:
        raise unfold.unknown(wanted, meant, (*numbers, *judged, *address.addresses(file.plan)))
    (key,) = meant
    return unfold.unfolded(key, numbers[key], screen) if key in numbers else unfold.found(judged[key], screen)


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


def _document(asked: argparse.Namespace) -> int:
    from vanwater.terminal.output_file import page_target
    from vanwater.terminal.refusal import RefusedError

    plan = Path(asked.plan)
    name = " ".join(filter(None, (plan.stem, asked.situation)))
    target = page_target(asked.output or Path(f"{name}.html"), plan)
    file, answers = _answered(asked.plan, asked.situation)
    from vanwater.document.html import write

    us = _us(asked, file)
    try:
        write(answers, target, us=us)
    except OSError as error:
        raise RefusedError(f"{target} cannot be written: {error.strerror}.") from None
    _tell(answers.read_in(us).headline.text(us), f"{target} is written, one page for any browser.")
    return COMPUTED


def _lab(asked: argparse.Namespace) -> int:
    from vanwater.terminal import lab

    lab.require()
    plan = None
    if asked.plan is not None:
        from vanwater.plan.file import read

        plan = read(asked.plan).path
    folder = Path(lab.FOLDER)
    made = len(lab.copied(folder))
    copied = f"{made} notebook{'' if made == 1 else 's'} copied to {folder}."
    _tell(copied if made else f"The notebooks in {folder} are used as they are.")
    return lab.open_lab(folder, plan)


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
