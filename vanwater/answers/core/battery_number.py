"""What may be taken of the full battery, as a number with its sum."""

from __future__ import annotations

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.working import stated, step
from vanwater.physics import battery
from vanwater.plan.chemistry import chemistries
from vanwater.quantities import SHARE, TEMPERATURE, Array
from vanwater.system.batch import Batch
from vanwater.system.power import Bank

__all__ = ["usable_number"]


def usable_number(batch: Batch, bank: Bank) -> Number:
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
