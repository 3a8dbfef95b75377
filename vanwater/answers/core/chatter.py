"""From where on a switched pump only chatters: motor and switch have inertia, so that a figure would mean nothing."""

from __future__ import annotations

__all__ = ["CHATTER", "LEAST_CYCLE"]

CHATTER = 1.0
"""Starts from which on a pump only chatters, 1/s: its motor takes some tenths of a second to come to speed and to rest
(common practice)."""

LEAST_CYCLE = 10e-6
"""Water between two starts below which a pump only chatters, m³: some strokes (common practice)."""
