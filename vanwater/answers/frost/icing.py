"""The shares of ice at which still water blocks a piece, and at which the piece is in danger of bursting."""

from __future__ import annotations

from vanwater.answers.core.number import Number
from vanwater.answers.core.working import stated
from vanwater.answers.frost.cold import Cold
from vanwater.plan.frost_tables import BurstRow
from vanwater.quantities import SHARE
from vanwater.system.icing import block_share, burst_share

__all__ = ["to_block", "to_burst"]


def to_block(cold: Cold) -> Number:
    """Share of ice that blocks still water."""

    def share() -> Number:
        return stated(
            "share of ice that blocks still water",
            block_share(cold.batch),
            SHARE,
            "Still water cools some degrees below freezing before the first ice, and then turns at once by the share "
            "that this cold makes up for.",
            source="common practice, from memory; heat of water and of fusion",
            note="The time until then by the heat balance at freezing, which takes as much heat out.",
        ).keyed("ice", "block", pairs=cold.pairs, digits=2)

    return cold.batch.once("ice to block", share)


def to_burst(cold: Cold, row: BurstRow) -> Number:
    """Share of ice at which a piece is in danger of bursting, by what its wall stands."""

    def share() -> Number:
        return stated(
            f"share of ice that endangers a piece: {row.name}",
            burst_share(cold.batch, row),
            SHARE,
            "So much more ice than blocks it, no more than all of the water.",
            facts=lambda: [("share that blocks", to_block(cold)), ("more than that", (row.more_ice.likely, SHARE))],
            source=f"{row.source}, from memory",
            note="Water that is shut in between the ice and a closed tap, a check valve or a pump.",
        ).keyed("ice", "burst", row.key, pairs=cold.pairs, digits=2)

    return cold.batch.once(f"ice to burst: {row.key}", share)
