"""The trade's terms that belong to outlets."""

from __future__ import annotations

from vanwater.answers.core.terms import Term

__all__ = ["TERMS"]

TERMS: tuple[Term, ...] = (
    Term("by-pass", "A sprung valve in a pump that lets water round again when the taps take little.", ("by_pass",)),
    Term("clogged", "Partly blocked by what it has caught, as a strainer or a filter."),
    Term("cycles", "The pump starts and stops again and again while a tap is open; the flow pulses.", ("cycling",)),
    Term("diaphragm pump", "A pump that pushes small portions of water on by a moving skin.", ("diaphragm",)),
    Term("friction factor", "A number without unit that says how much a pipe holds back the water in it."),
    Term("handset", "The part of a shower that is held in the hand; its holes decide most of the flow."),
    Term("lift", "How high the water must be raised, or how much pressure that takes."),
    Term("loss coefficient", "A number (K) that says how much pressure a fitting takes at a given speed of the water."),
    Term("micro-switch", "A small switch in a tap that starts the pump when the tap is opened.", ("micro_switch",)),
    Term("mixing tap", "A tap that joins hot and cold water.", ("mixer", "mixers")),
    Term("operating point", "The flow at which the pump's pressure and all losses are equal."),
    Term("priming", "A pump's first task: to fill its own suction hose with water.", ("primes", "prime")),
    Term("roughness", "How rough the inside of a pipe is, as the height of sand grains that would brake as much."),
    Term("shut-off", "The state, and the pressure, of a pump against a closed tap.", ("shut off",)),
    Term("speed control", "What turns the pump just fast enough to hold one pressure.", ("speed-controlled",)),
    Term("stall", "The pressure against which hand or foot can no longer work a pump.", ("stalls",)),
    Term("strainer", "A coarse sieve in front of the pump."),
    Term("submersible pump", "A small pump that hangs in the tank and presses the water out of it.", ("submersible",)),
    Term("suction", "The side of the pump from which it draws."),
    Term("thermostatic valve", "A mixing valve that holds the temperature by itself.", ("thermostatic mixing valve",)),
)
"""In the order of the alphabet."""
