"""The battery as a store: what the water takes of it a day, and how long it lasts."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.working import stated, step
from vanwater.answers.stay.stores import StoreDays, drained
from vanwater.physics import battery
from vanwater.plan.chemistry import chemistries
from vanwater.quantities import DAILY_ENERGY, SHARE, TEMPERATURE, Array
from vanwater.system.batch import Batch
from vanwater.system.day import day_of
from vanwater.system.power import Bank, bank_of

__all__ = ["battery_store", "usable_of"]


def battery_store(batch: Batch, pairs: Sequence[UnsureRows]) -> StoreDays | None:
    """How long the battery lasts, or None while it is not decided.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    pairs : sequence of UnsureRows
        Where the unsure inputs stand.

    Returns
    -------
    StoreDays or None
        Unlimited where charging covers the loads, not known while the plan has no uses.
    """
    bank, plan = bank_of(batch), batch.plan
    if bank is None or plan.battery is None or (plan.battery.other_loads is None and not plan.appliances):
        return None
    day = day_of(batch)
    loads = [(consumer.label, energy) for consumer, energy in day.of()]
    charged = [(charge.label, day.charged(charge)) for charge in day.charges]
    charged = [(label, energy) for label, energy in charged if np.any(energy > 0.0)]
    put_back: Array = np.sum([energy for _, energy in charged], axis=0) if charged else np.zeros(len(batch))
    net = np.sum([energy for _, energy in loads], axis=0) - put_back
    parts = [*loads, *((label, -energy) for label, energy in charged)]
    a_day = stated(
        "taken from the battery a day, net",
        net,
        DAILY_ENERGY,
        "Loads in each state of the day less what is put back; what lies behind inverter and cable is divided by the "
        "share that they let through.",
        parts=[(label, (value, DAILY_ENERGY)) for label, value in parts],
        source="sum of the loads",
    ).keyed("battery", "a_day", pairs=pairs)
    usable = usable_of(batch, bank).keyed("battery", "usable", pairs=pairs)
    days = step("days of the battery", battery.battery_days, usable=usable, daily_net=a_day)
    days = days.keyed("battery", "days", pairs=pairs, rates=drained(usable, a_day))
    return StoreDays("battery", "battery", (), usable, a_day, days, _uncharged(usable, net, put_back, pairs))


def usable_of(batch: Batch, bank: Bank) -> Number:
    """Energy that may be taken of the full battery, as cold as it stands.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    bank : Bank
        Its battery.

    Returns
    -------
    Number
        Without a key.
    """
    share: Number | Array = bank.usable
    if np.any(bank.cold < 1.0):
        assert batch.plan.battery is not None
        share = stated(
            "share of the battery that may be used, as cold as it stands",
            bank.usable * bank.cold,
            SHARE,
            "The share that may be used when it is warm, times what the cold leaves of it.",
            facts=[
                ("when it is warm", (bank.usable, SHARE)),
                ("left in the cold", (bank.cold, SHARE)),
                ("temperature where it stands", (bank.temperature, TEMPERATURE)),
            ],
            source=chemistries()[str(batch.plan.battery.chemistry)].source,
        )
    return step(
        "usable energy of the battery",
        battery.usable_energy,
        voltage=bank.volts,
        charge=bank.charge,
        usable_share=share,
    )


def _uncharged(usable: Number, net: Array, charging: Array, pairs: Sequence[UnsureRows]) -> Number | None:
    """How long the battery lasts while nothing is put back; None where nothing ever is."""
    if not np.any(charging > 0.0):
        return None
    loads = stated(
        "taken from the battery a day, nothing put back",
        net + charging,
        DAILY_ENERGY,
        "All loads of the water and the rest, without sun or driving.",
        parts=[("net", (net, DAILY_ENERGY)), ("charging", (charging, DAILY_ENERGY))],
        source="sum of the loads",
    ).keyed("battery", "loads_a_day", pairs=pairs)
    days = step("days of the battery without any charge", battery.battery_days, usable=usable, daily_net=loads)
    return days.keyed("battery", "days_without_charge", pairs=pairs, rates=drained(usable, loads))
