"""Numbers and findings as people who write Python hold them: short in a terminal, a table in a notebook, a frame."""

from __future__ import annotations

import html
from collections.abc import ItemsView, Iterator, Mapping
from typing import Any

from vanwater.answers.core.finding import Finding
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import harmless

__all__ = ["FindingList", "Numbers"]

_PLAIN, _HTML = harmless("terminal"), harmless("html")
_SHOWN = 60
"""Rows of a table in a notebook; a frame has all of them."""


class Numbers(Mapping[str, Number]):
    """Numbers by their keys: ``numbers["tank.grey.days"]``.

    Parameters
    ----------
    keyed : mapping of str to Number
        In the order of the alphabet.
    """

    __slots__ = ("_keyed",)

    def __init__(self, keyed: Mapping[str, Number]) -> None:
        self._keyed = dict(keyed)

    def __getitem__(self, key: str) -> Number:
        return self._keyed[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self._keyed)

    def __len__(self) -> int:
        return len(self._keyed)

    def items(self) -> ItemsView[str, Number]:
        """Keys with their numbers, in the order of the alphabet."""
        return self._keyed.items()

    def __repr__(self) -> str:
        first = ", ".join([*self._keyed][:3])
        return f"<{len(self)} numbers: {first}{' ...' if len(self) > 3 else ''}>"

    def _ipython_key_completions_(self) -> list[str]:
        return list(self._keyed)

    def _repr_html_(self) -> str:
        rows = "".join(
            f'<tr><td>{_HTML(key)}</td><td style="text-align:right">{_HTML(number.shown.text())}</td>'
            f"<td>{_HTML(number.name)}</td></tr>"
            for key, number in [*self.items()][:_SHOWN]
        )
        more = f"<p>and {len(self) - _SHOWN} more; frame() has all of them</p>" if len(self) > _SHOWN else ""
        return f"<table><tr><th>key</th><th>number</th><th>what it is</th></tr>{rows}</table>{more}"

    def frame(self, us: bool = False, si: bool = False) -> Any:
        """All numbers as a pandas data frame, one row each.

        Parameters
        ----------
        us : bool
            US units instead of metric ones.
        si : bool
            SI units instead of either.

        Returns
        -------
        pandas.DataFrame
            By key: value, low and high as floats, unit, what it is, and why it has no range where it has none.

        Raises
        ------
        ImportError
            When pandas is not installed.
        """
        import pandas as pd

        def shown(number: Number, value: float) -> float:
            return value if si else float(number.quantity.show(value, us))

        rows = {
            key: {
                "value": shown(number, number.likely),
                "low": shown(number, number.range[0]) if number.range else float("nan"),
                "high": shown(number, number.range[1]) if number.range else float("nan"),
                "unit": number.quantity.si if si else number.quantity.unit(us),
                "name": number.name,
                "no range": number.unranged,
            }
            for key, number in self.items()
        }
        columns = ["value", "low", "high", "unit", "name", "no range"]
        return pd.DataFrame.from_dict(rows, orient="index", columns=columns).rename_axis("key")


class FindingList(tuple[Finding, ...]):
    """Findings, worst first."""

    __slots__ = ()

    def __repr__(self) -> str:
        return "\n".join(f"{finding.verdict}: {finding.statement.text()}" for finding in self) or "<no findings>"

    def _repr_html_(self) -> str:
        rows = "".join(
            f"<tr><td>{html.escape(str(finding.verdict))}</td><td>{finding.statement.text(False, _HTML)}</td>"
            f"<td>{finding.advice.text(False, _HTML) if finding.advice else ''}</td></tr>"
            for finding in self
        )
        return f"<table><tr><th>verdict</th><th>finding</th><th>what to change</th></tr>{rows}</table>"

    def frame(self, us: bool = False) -> Any:
        """All findings as a pandas data frame, one row each.

        Parameters
        ----------
        us : bool
            US units in the sentences instead of metric ones.

        Returns
        -------
        pandas.DataFrame
            By key: verdict, sentence, what to change, address in the plan, source.

        Raises
        ------
        ImportError
            When pandas is not installed.
        """
        import pandas as pd

        rows = {
            finding.key: {
                "verdict": finding.verdict.word,
                "finding": finding.statement.text(us, _PLAIN),
                "change": finding.advice.text(us, _PLAIN) if finding.advice else "",
                "address": finding.address,
                "source": finding.source,
            }
            for finding in self
        }
        columns = ["verdict", "finding", "change", "address", "source"]
        return pd.DataFrame.from_dict(rows, orient="index", columns=columns).rename_axis("key")
