"""The trade's terms, each explained once, in the words of somebody who has never built a van."""

from __future__ import annotations

import re
from dataclasses import dataclass

__all__ = ["TERMS", "Term", "terms_in"]


@dataclass(frozen=True, slots=True)
class Term:
    """A term and its explanation.

    Parameters
    ----------
    name : str
        The term as it stands in the list.
    meaning : str
        One or two plain sentences.
    forms : tuple of str
        Other words by which a text may call it.
    """

    name: str
    meaning: str
    forms: tuple[str, ...] = ()


TERMS: tuple[Term, ...] = (
    Term(
        "accumulator",
        "A small vessel with a cushion of gas behind the pump. It evens out the pulses and lets the pump rest.",
    ),
    Term("back-flow", "Water that runs the wrong way: out of the van into the campsite's pipe, or into the tank."),
    Term("bore", "The inside width of a hose or pipe: what the water sees."),
    Term("by-pass", "A sprung valve in a pump that lets water round again when the taps take little.", ("by_pass",)),
    Term("cassette", "The removable holding tank of a toilet.", ("toilet cassette",)),
    Term("check valve", "A valve that lets water through one way only."),
    Term("clogged", "How much of a strainer or filter is blocked by what it has caught."),
    Term("cut-in", "The pressure at which the pump's switch starts it.", ("cut in", "cut_in")),
    Term("cut-out", "The pressure at which the pump's switch stops it.", ("cut out", "cut_out")),
    Term("cycles", "The pump starts and stops again and again while a tap is open; the flow pulses.", ("cycling",)),
    Term("diaphragm pump", "A pump that pushes small portions of water on by a moving skin.", ("diaphragm",)),
    Term("element", "The electric heating rod inside a water heater."),
    Term("fitting", "A piece that joins or turns a run: elbow, tee, coupling, valve.", ("fittings",)),
    Term("friction factor", "A number without unit that says how much a pipe holds back the water in it."),
    Term(
        "gauge pressure",
        "Pressure above that of the air around us, as a gauge shows it. All pressures here are such unless said.",
        ("pressure",),
    ),
    Term("grey water", "Used water from shower, basin and sink, kept on board until it may be let out.", ("grey",)),
    Term("handset", "The part of a shower that is held in the hand; its holes decide most of the flow."),
    Term("idle", "What an inverter takes from the battery while it is on and nothing is plugged in.", ("idling",)),
    Term("inverter", "The device that makes mains voltage out of the battery."),
    Term("lift", "How high the water must be raised, or how much pressure that takes."),
    Term("loss coefficient", "A number (K) that says how much pressure a fitting takes at a given speed of the water."),
    Term("mains inlet", "Where the hose from a campsite's tap goes into the van.", ("on the mains",)),
    Term("micro-switch", "A small switch in a tap that starts the pump when the tap is opened.", ("micro_switch",)),
    Term("mixing tap", "A tap that joins hot and cold water.", ("mixer", "mixers")),
    Term("operating point", "The flow at which the pump's pressure and all losses are equal."),
    Term("overflow", "The height at which a tank is full and water runs out of its overflow or vent."),
    Term("pick-up", "The mouth through which water is drawn out of a tank.", ("pickup", "pick up")),
    Term("pitch", "How much the parked van slopes from front to rear."),
    Term("pre-charge", "The gas pressure in an accumulator before any water enters.", ("precharge",)),
    Term("priming", "A pump's first task: to fill its own suction hose with water.", ("primes", "prime")),
    Term("ready habits", "A stated set of water uses that fills what the plan leaves out."),
    Term("regulator", "A valve that holds one pressure, or one flow, however high the pressure before it stands."),
    Term("residual", "What a computed balance leaves over; near zero when the sum is sound.", ("left unbalanced",)),
    Term("roll", "How much the parked van slopes from side to side."),
    Term(
        "root-sum-square",
        "How several independent uncertainties are put together: the square root of the sum of their squares.",
    ),
    Term("roughness", "How rough the inside of a pipe is, as the height of sand grains that would brake as much."),
    Term("run", "One length of hose or pipe with its fittings, from one piece to the next.", ("runs",)),
    Term("run off", "Cold water that is let run away until the hot water arrives.", ("run-off",)),
    Term("run-back line", "A hose that leads the cooled water of the hot line back to the tank while one waits."),
    Term("set point", "The temperature at which a heater's thermostat switches off."),
    Term("shut-off", "The state, and the pressure, of a pump against a closed tap.", ("shut off",)),
    Term("speed control", "What turns the pump just fast enough to hold one pressure.", ("speed-controlled",)),
    Term("stall", "The pressure against which hand or foot can no longer work a pump.", ("stalls",)),
    Term("standby", "The heat that a heater loses while it only keeps its water warm.", ("standing loss",)),
    Term("strainer", "A coarse sieve in front of the pump."),
    Term("submersible pump", "A small pump that hangs in the tank and presses the water out of it.", ("submersible",)),
    Term("suction", "The side of the pump from which it draws."),
    Term("tee", "A fitting where one run becomes two, or two become one.", ("tees",)),
    Term("thermostatic valve", "A mixing valve that holds the temperature by itself.", ("thermostatic mixing valve",)),
    Term("urine container", "The container of a dry toilet that keeps urine apart.", ("urine",)),
    Term("usable", "The part of a tank or battery that can be used without harm or tilting the van."),
)
"""In the order of the alphabet."""


def terms_in(text: str) -> tuple[Term, ...]:
    """The terms that a text uses.

    Parameters
    ----------
    text : str
        The text of a document.

    Returns
    -------
    tuple of Term
        In the order of the alphabet.
    """
    words = " ".join(re.findall(r"[\w-]+", text.casefold()))
    return tuple(
        term for term in TERMS if any(re.search(rf"\b{re.escape(form)}\b", words) for form in (term.name, *term.forms))
    )
