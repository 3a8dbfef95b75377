"""The numbers of a picture as a file to keep: a link that works offline and in a saved page."""

from __future__ import annotations

import re
import unicodedata
from urllib.parse import quote

from vanwater.answers.core.chart import Chart
from vanwater.figures.data import csv

__all__ = ["DIGITS", "MARK", "csv_link", "file_stem"]

MARK = "\N{BYTE ORDER MARK}"
"""What a table file begins with, so that every spreadsheet reads its letters as they are meant."""

DIGITS = 5
"""Of each number: more than anybody measures, and few enough to be the same on every machine."""

_LONGEST = 60


def csv_link(chart: Chart, us: bool = False, plan: str = "") -> str:
    """A link that saves what a picture shows as comma-separated values.

    Parameters
    ----------
    chart : Chart
        The chart.
    us : bool
        US units instead of metric ones.
    plan : str
        The van's name, for the name of the file.

    Returns
    -------
    str
        One ``<a>`` element that holds the numbers itself.
    """
    data = quote(f"{MARK}{csv(chart, us, DIGITS)}", safe=",.-_~")
    return (
        f'<a class="vw-csv" download="{file_stem(chart, plan)}.csv" href="data:text/csv;charset=utf-8,{data}" '
        f'title="the numbers of this picture as a table file">CSV</a>'
    )


def file_stem(chart: Chart, plan: str = "") -> str:
    """Name of a file about a chart, without its ending: small letters, digits and hyphens of van and chart.

    Parameters
    ----------
    chart : Chart
        The chart.
    plan : str
        The van's name; letters that not every disk takes are left out.

    Returns
    -------
    str
        Such as "family-van-stores".
    """
    letters = unicodedata.normalize("NFKD", plan).encode("ascii", "ignore").decode().lower()
    van = re.sub("[^a-z0-9]+", "-", letters)[:_LONGEST].strip("-")
    return f"{van}-{chart.key}" if van else chart.key
