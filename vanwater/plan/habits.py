"""Ready habits of a household: the uses that fill the gaps of the builder's own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from vanwater.plan.address import known_keys, nearest
from vanwater.plan.household import Household
from vanwater.plan.raw import Tables
from vanwater.plan.tables import HABITS, habits

__all__ = ["meant", "with_habits"]


def with_habits(raw: Tables, known: tuple[str, ...]) -> dict[str, Any]:
    """The tables with the uses of the ready habit filled in below the builder's own.

    Parameters
    ----------
    raw : mapping
        Tables as the file gives them.
    known : tuple of str
        The tables that a plan may have.

    Returns
    -------
    dict
        The same tables with complete uses. A use that goes to a toilet which the van lacks is left out.
    """
    filled = dict(raw)
    household = meant(raw, "household", known)
    name = meant(household, "habits", known_keys(Household)) if isinstance(household, Mapping) else None
    own = raw.get("uses", {})
    if not isinstance(household, Mapping):
        name = "moderate"  # it is refused for the household itself
    if name is None or not isinstance(own, Mapping):
        return filled
    if name not in HABITS:
        name = "moderate"  # refused elsewhere; so the uses are not called incomplete because of it
    tanks = raw.get("tanks", {})
    tanks = tanks.values() if isinstance(tanks, Mapping) else ()
    held = [tank.get("holds") for tank in tanks if isinstance(tank, Mapping)]
    uses: dict[str, Any] = {}
    for use, row in habits(name).items():
        said = own.get(use, {})
        if row.get("to") in ("urine", "cassette") and row["to"] not in held and use not in own:
            continue
        if not isinstance(said, Mapping):
            uses[use] = said
            continue
        left_out: set[str] = set()
        if "volume" in said:
            left_out = {"flow", "duration"}
        elif "flow" in said or "duration" in said:
            left_out = {"volume"}
        uses[use] = {key: value for key, value in row.items() if key not in left_out} | dict(said)
    filled["uses"] = uses | {use: said for use, said in own.items() if use not in uses}
    return filled


def meant(table: Tables, key: str, known: tuple[str, ...]) -> Any:
    """The value of a key, also where the key is misspelt: refused elsewhere, but what hangs on it is not.

    Parameters
    ----------
    table : mapping
        Tables as the file gives them.
    key : str
        The key as it is spelt.
    known : tuple of str
        The keys that the table may have.

    Returns
    -------
    object
        What stands there; None where nothing does.
    """
    if key in table:
        return table[key]
    return next((table[other] for other in table if other not in known and nearest(str(other), known) == key), None)
