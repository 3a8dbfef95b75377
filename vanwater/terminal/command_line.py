"""What can be typed: the commands of the program, their words and their help."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TypeAlias

__all__ = ["ENDS", "Command", "parser_of"]

Command: TypeAlias = Callable[[argparse.Namespace], int]

_ABOUT = """\
Plan the water of a camper van before a hole is cut: how many days it lasts,
what the shower gives, and why.

  vanwater new van.toml                     write a commented plan to begin with
  vanwater stock hose                       what a plan may name: hoses, pumps ...
  vanwater check van.toml                   the answers, in a screenful
  vanwater check van.toml --why days.fresh  one number unfolded to its sum
  vanwater compare van.toml other.toml      what differs between two plans
  vanwater document van.toml -o van.html    the same for the customer, as a page
  vanwater draw van.toml -o van.svg         the plumbing as a drawing
  vanwater card van.toml                    a card to laminate, tags to cut out
  vanwater parts van.toml                   what to order, what to cut
  vanwater lab van.toml                     notebooks with sliders
"""
ENDS = """\
Ends with 0 when all was computed, 1 with --strict and a failing finding,
2 on input that cannot be used, 70 after a fault of vanwater itself,
74 when the output cannot be written.
"""


def parser_of(does: Mapping[str, Command], version: str) -> argparse.ArgumentParser:
    """The parser of everything that can be typed.

    Parameters
    ----------
    does : mapping of str to callable
        What each command does with what was typed: it gives the exit code.
    version : str
        Of the program.

    Returns
    -------
    argparse.ArgumentParser
        It gives ``command`` beside what was typed, None where no command was; ``error`` complains about the words of
        the command.
    """
    parser = argparse.ArgumentParser(
        prog="vanwater",
        description=_ABOUT,
        epilog=ENDS,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"vanwater {version}")
    parser.set_defaults(command=None)
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")

    check = commands.add_parser(
        "check",
        help="answer every question about a plan",
        usage="vanwater check PLAN [--situation NAME] [--units {metric,us}]\n"
        "                           [--why [KEY] | --all | --json] [--strict]\n"
        "       vanwater check --json-schema",
        epilog=ENDS,
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
    check.set_defaults(command=does["check"], error=check.error)

    new = commands.add_parser("new", help="write a commented plan to begin with", allow_abbrev=False)
    new.add_argument("file", metavar="FILE", type=Path, help="a file that does not exist yet")
    new.add_argument("--full", action="store_true", help="with every field of a plan, explained")
    new.set_defaults(command=does["new"])

    stock = commands.add_parser("stock", help="list what a plan may name", allow_abbrev=False)
    stock.add_argument("word", metavar="WORD", nargs="*", help="a kind, such as pumps or joints, or a word of a row")
    stock.add_argument("--plan", metavar="PLAN", help="a plan, whose shelf is listed too")
    _units(stock)
    stock.set_defaults(command=does["stock"])

    compare = commands.add_parser("compare", help="tell what differs between plans", allow_abbrev=False)
    compare.add_argument("plan", metavar="PLAN", help="the plan's file")
    compare.add_argument("others", metavar="OTHER", nargs="+", help="another plan's file")
    compare.add_argument("--all", action="store_true", help="every number that differs")
    compare.add_argument(
        "-o", "--output", metavar="FILE", type=Path, help="the change order between two plans, as a page"
    )
    _units(compare)
    compare.set_defaults(command=does["compare"])

    document = commands.add_parser("document", help="write the answers as a page for the customer", allow_abbrev=False)
    document.add_argument("plan", metavar="PLAN", help="the plan's file")
    document.add_argument("--situation", metavar="NAME", help="the plan in one of its situations")
    document.add_argument(
        "--for",
        dest="reader",
        choices=("customer", "workshop", "file", "all"),
        default="file",
        help="the customer's few pages, the workshop's sheet, the file with every sum, or all three",
    )
    document.add_argument(
        "-o",
        "--output",
        metavar="FILE",
        type=Path,
        help="a page, a PDF or Markdown by its ending; PLAN.html here without it",
    )
    _units(document)
    document.set_defaults(command=does["document"])

    draw = commands.add_parser("draw", help="draw the plumbing, or the van to scale", allow_abbrev=False)
    draw.add_argument("plan", metavar="PLAN", help="the plan's file")
    draw.add_argument("--situation", metavar="NAME", help="the plan in one of its situations")
    draw.add_argument(
        "--view",
        choices=("schematic", "scale"),
        default="schematic",
        help="the plumbing, or the van to scale from the side and from above",
    )
    draw.add_argument(
        "--shows", choices=("size", "loss"), default="size", help="beside each run: size and length, or what it takes"
    )
    draw.add_argument("--outlet", metavar="NAME", help="the open outlet, for --shows loss")
    draw.add_argument(
        "-o",
        "--output",
        metavar="FILE",
        type=Path,
        help="the drawing; PLAN.svg here without it, or PLAN NAME.svg, PLAN scale.svg",
    )
    _units(draw)
    draw.set_defaults(command=does["draw"], error=draw.error)

    card = commands.add_parser(
        "card", help="write the card that stays in the van, with tags to cut out", allow_abbrev=False
    )
    card.add_argument("plan", metavar="PLAN", help="the plan's file")
    card.add_argument("--situation", metavar="NAME", help="the plan in one of its situations")
    card.add_argument("--csv", action="store_true", help="the tags alone as comma-separated values, for labels")
    card.add_argument(
        "-o",
        "--output",
        metavar="FILE",
        type=Path,
        help="the card; PLAN card.html here without it",
    )
    _units(card)
    card.set_defaults(command=does["card"])

    parts = commands.add_parser("parts", help="list what to order and what to cut", allow_abbrev=False)
    parts.add_argument("plan", metavar="PLAN", help="the plan's file")
    parts.add_argument("--csv", action="store_true", help="the list as comma-separated values, for an order")
    _units(parts)
    parts.set_defaults(command=does["parts"])

    lab = commands.add_parser("lab", help="open the notebooks, worked out for a plan", allow_abbrev=False)
    lab.add_argument("plan", metavar="PLAN", nargs="?", help="the plan that they begin with")
    lab.add_argument("--fresh", action="store_true", help="replace notebooks that you changed, too")
    lab.set_defaults(command=does["lab"])
    return parser


def _units(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--units", choices=("metric", "us"), help="units to show; the plan's own without it")
