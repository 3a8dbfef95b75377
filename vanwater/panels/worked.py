"""A van worked by hand, written as a plan and asked: what the hand found beside what is reckoned here."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from vanwater.answers.answer import Column, Table
from vanwater.answers.autonomy import autonomy
from vanwater.answers.wording import Amount, say
from vanwater.panels import told
from vanwater.panels.show import Shown
from vanwater.plan.model import Plan
from vanwater.plan.tables import resource
from vanwater.quantities import SHARE, STAY

__all__ = ["Worked", "plan_of", "worked_van"]

_STORES = {
    "days, fresh": "fresh",
    "days, grey": "grey",
    "days, urine container": "urine",
}


@dataclass(frozen=True, slots=True)
class Worked:
    """One number worked by hand, and the same from the answer.

    Parameters
    ----------
    what : str
        What it is.
    by_hand, here : float
        The two, in SI.
    within : float
        How far apart they may lie, as a share.
    """

    what: str
    by_hand: float
    here: float
    within: float

    @property
    def agrees(self) -> bool:
        """Whether they lie close enough."""
        return abs(self.here - self.by_hand) <= self.within * abs(self.by_hand)


def worked_van(key: str = "S3") -> Shown:
    """Days of a worked van, by hand and here, side by side.

    Parameters
    ----------
    key : str
        Which van of ``data/validation/worked_vans.json``.

    Returns
    -------
    Shown
        A table.
    """
    van = _van(key)
    rows = tuple(
        (
            one.what,
            Amount(one.by_hand, STAY),
            Amount(one.here, STAY),
            Amount(one.within, SHARE),
            "✓ agrees" if one.agrees else "✕ differs",
        )
        for one in compared(van)
    )
    columns = (
        Column("number"),
        Column("by hand", STAY),
        Column("here", STAY),
        Column("may differ by", SHARE),
        Column(""),
    )
    caption = say("{title}. Source: {source}.", title=van["title"], source=_read()["source"])
    made = Table("worked", caption, columns, rows)
    return Shown(told.table(made), told.table_text(made))


def compared(van: Mapping[str, Any]) -> tuple[Worked, ...]:
    """Each store's days of a worked van, by hand and here."""
    here = {store.holds: float(store.step.value[0]) for store in autonomy(plan_of(van)).stores}
    return tuple(
        Worked(
            one["quantity"],
            float(STAY.spellings["days"].to_si(one["value"])),
            here[_STORES[one["quantity"]]],
            one.get("strict_tolerance", one["tolerance"]),
        )
        for one in van["expected"]
        if one["quantity"] in _STORES
    )


def plan_of(van: Mapping[str, Any]) -> Plan:
    """A worked van's tanks and uses as a builder would write them down."""
    given = van["inputs"]
    tanks, hot, hose = given["tanks"], given["supply"]["hot_leg"], given["supply"]["mixed_hose"]
    uses = {
        name: {
            "a_day": f"{use['events_a_day']} a day",
            "per": "van",
            "volume": f"{use['litres']} L",
            "returns": use["grey_share"],
            "hot": bool(use.get("run_off")),
            "outlet": "shower",
        }
        for name, use in given["uses"].items()
    }
    held: dict[str, Any] = {
        "fresh": {"holds": "fresh", "capacity": f"{tanks['fresh_usable_L']} L", "out_of_reach": "0 L"},
        "grey": {"holds": "grey", "capacity": f"{tanks['grey_usable_L']} L"},
    }
    if "urine_L" in tanks:
        held["urine container"] = {"holds": "urine", "capacity": f"{tanks['urine_L']} L"}
        each = f"{tanks['urine_L_person_day']} L"
        uses["urine"] = {
            "a_day": "1 a day",
            "per": "person",
            "volume": "0 L",
            "adds": each,
            "returns": 0.0,
            "to": "urine",
        }
    return Plan.of(
        {
            "van": {"name": van["id"]},
            "household": {"people": given["people"], "run_off": 1.0},
            "uses": uses,
            "tanks": held,
            "heaters": {"heater": {"volume": f"{given['heater']['volume_L']} L"}},
            "mixers": {"mixer": {}},
            "outlets": {"shower": {}},
            "runs": {
                "hot leg": _run("heater", "mixer", hot),
                "mixed hose": _run("mixer", "shower", hose),
            },
        }
    )


def _run(start: str, end: str, size: Mapping[str, float]) -> dict[str, str]:
    return {"from": start, "to": end, "bore": f"{size['bore_mm']} mm", "length": f"{size['length_m']} m"}


def _read() -> dict[str, Any]:
    read: dict[str, Any] = json.loads(resource("data", "validation", "worked_vans.json").read_text(encoding="utf-8"))
    return read


def _van(key: str) -> Mapping[str, Any]:
    known: dict[str, Mapping[str, Any]] = {van["id"]: van for van in _read()["scenarios"]}
    if key not in known:
        raise KeyError(f"There is no worked van {key}; there are {', '.join(known)}.")
    return known[key]
