"""The two sections of the validation page that compare laws and programs, computed anew each time.

``tests/test_published.py`` puts them on the page and tests them.
"""

from __future__ import annotations

import functools
import json
import math
from dataclasses import dataclass

import numpy as np
from fluids.friction import friction_factor

from tests.physics.networks import OUTLETS, PUBLISHED, small_van, small_van_numbers
from tests.physics.test_network import EPANET_LOSSES, epanet_law
from vanwater.physics.fittings import k_from_length
from vanwater.physics.friction import (
    SMOOTH_PLASTIC,
    friction_loss,
    hazen_williams_loss,
    relative_roughness,
    reynolds,
    velocity,
)
from vanwater.physics.friction import friction_factor as own_factor
from vanwater.physics.network import NetworkInputs, solve
from vanwater.physics.water import density, viscosity
from vanwater.quantities import BORE, FLOW, PRESSURE, TEMPERATURE

FOOT = 0.3048
WATER = TEMPERATURE.read("60 °F")
RHO, MU = float(density(WATER)), float(viscosity(WATER))
PSI = PRESSURE.spellings["psi"].to_si(1.0)
GPM = FLOW.spellings["gpm"].to_si(1.0)


@dataclass(frozen=True)
class Law:
    """One printed pressure drop a foot of tube, and what two laws give [psi]."""

    tube: str
    bore: float
    flow: float
    printed: float

    @property
    def hazen_williams(self) -> float:
        return float(hazen_williams_loss(self.flow, self.bore, FOOT, 150.0, RHO)) / PSI

    @property
    def darcy_weisbach(self) -> float:
        return float(friction_loss(self.flow, self.bore, FOOT, SMOOTH_PLASTIC, RHO, MU)) / PSI

    def judge(self) -> float:
        """Darcy-Weisbach with the factor of the fluids library."""
        re = float(reynolds(self.flow, self.bore, RHO, MU))
        factor = friction_factor(Re=re, eD=SMOOTH_PLASTIC / self.bore, Method="Clamond")
        return factor * FOOT / self.bore * RHO * float(velocity(self.flow, self.bore)) ** 2 / 2.0 / PSI


def laws(cases: list[dict[str, str]]) -> list[Law]:
    """The printed drops of plastic tube among the rows, and the same tube at other flows."""
    found = []
    for case in cases:
        if case["id"].startswith("hyd-28-"):
            given = json.loads(case["inputs"])
            number = float(given["flow"].removesuffix(" gpm"))
            bore = BORE.read(given["bore"])
            for other in (1.0, 2.0, number, 6.0):
                printed = float(case["expected"]) if other == number else math.nan
                found.append(Law(case["title"], bore, other * GPM, printed))
    return found


LAWS = """What is printed for SDR9 PEX tube follows Hazen and Williams with C = 150. A plan is solved by Darcy and
Weisbach with Colebrook's factor at the roughness of drawn plastic, 1.5 µm, which lies above it, most where the flow is
least. That gap is shown and not tuned away by the roughness: Hazen-Williams was fitted to wide pipes and knows neither
the water's warmth nor its viscosity. Water at 60 °F, pressure lost a foot."""

LENGTHS = """A printed equivalent length is no constant K: what it means falls with the friction factor as the flow
grows. An elbow of 9.4 ft of the half-inch tube (flow tests of ASTM F1807 crimp inserts) is, on the tube's own bore:"""


def two_laws(cases: list[dict[str, str]]) -> str:
    """Printed table, Hazen-Williams, Darcy-Weisbach and the gap; and what an equivalent length means."""
    head = ["tube", "gal/min", "Re", "printed, psi", "Hazen-Williams, psi", "Darcy-Weisbach, psi", "above it"]
    lines = [LAWS, "", "| " + " | ".join(head) + " |", "|---" * len(head) + "|"]
    for law in laws(cases):
        gap = law.darcy_weisbach / law.printed - 1.0
        fields = [law.tube, f"{law.flow / GPM:g}", f"{float(reynolds(law.flow, law.bore, RHO, MU)):.0f}"]
        printed = ["", f"{law.darcy_weisbach / law.hazen_williams - 1.0:+.0%} (of Hazen-Williams)"]
        if not math.isnan(law.printed):
            printed = [f"{law.printed:g}", f"{gap:+.0%}"]
        fields += [printed[0], f"{law.hazen_williams:.4f}", f"{law.darcy_weisbach:.4f}", printed[1]]
        lines.append("| " + " | ".join(fields) + " |")
    lines += ["", LENGTHS, "", "| gal/min | K |", "|---|---|"]
    bore = BORE.read("0.475 in")
    for number in (1.0, 2.0, 4.0):
        lines.append(f"| {number:g} | {length_as_k(9.4 * FOOT, bore, number * GPM):.1f} |")
    return "\n".join(lines)


def length_as_k(length: float, bore: float, flow: float) -> float:
    """K of a length of smooth tube at a flow."""
    factor = own_factor(reynolds(flow, bore, RHO, MU), relative_roughness(SMOOTH_PLASTIC, bore))
    return float(k_from_length(length, bore, factor))


@dataclass(frozen=True)
class Peer:
    """How far a program's written-down answers lie from vanwater's: outlet flows relative, node pressures [Pa]."""

    program: str
    cases: int
    turbulent: int
    flow_turbulent: float
    pressure_turbulent: float
    flow_all: float


@functools.cache
def peers() -> list[Peer]:
    """Every program of ``network_cases.json``, each case solved anew."""
    network, found = small_van(), {name: [] for name in PUBLISHED["laws"]}
    for case in PUBLISHED["cases"]:
        numbers = small_van_numbers(case["T_C"])
        numbers["openness"] = np.array([[float(name in case["open"]) for name in OUTLETS]])
        plain = solve(network, NetworkInputs(**numbers))
        numbers["loss_coefficient"] = numbers["loss_coefficient"] * EPANET_LOSSES
        twin = solve(network, NetworkInputs(**numbers), tolerance=1e-7, friction=epanet_law)
        for program, cases in found.items():
            flows = twin if program == "twin_of_epanet" else plain
            flow = [abs(float(flows.outlet(name)[0]) / case[program]["q_outlet"][name] - 1.0) for name in case["open"]]
            level = [abs(float(flows.at(node)[0]) - p) for node, p in case[program]["p_node"].items()]
            cases.append((min(case["Re"].values()) > 4000.0, max(flow), max(level)))
    made = []
    for program, cases in found.items():
        still = [case for case in cases if case[0]]
        worst = (max(case[1] for case in still), max(case[2] for case in still), max(case[1] for case in cases))
        made.append(Peer(program, len(cases), len(still), *worst))
    return made


NETWORK = """`network_cases.json` holds a van of 23 links and {cases} cases of it (a set of open outlets, cold or warm
water) with what other programs give, written down with their versions; `tests/physics/test_network.py` compares each
within its fair tolerance, and `tests/peers/` runs EPANET anew on these and on random designs. Greatest gaps to
vanwater, computed now:"""


def network_table() -> str:
    """Counts of cases per program and the worst deviation."""
    head = ["program and law", "cases", "of them all above Re 4000", "outlet flow there", "node pressure there, Pa"]
    head.append("outlet flow, all cases")
    lines = [
        NETWORK.format(cases=len(PUBLISHED["cases"])),
        "",
        "| " + " | ".join(head) + " |",
        "|---" * len(head) + "|",
    ]
    for peer in peers():
        fields = [PUBLISHED["laws"][peer.program], str(peer.cases), str(peer.turbulent), share(peer.flow_turbulent)]
        fields += [share(peer.pressure_turbulent, 1e-3), share(peer.flow_all)]
        lines.append("| " + " | ".join(fields) + " |")
    return "\n".join(lines)


def share(value: float, least: float = 1e-9) -> str:
    """Two digits; below what the last digits of a machine decide, only that."""
    if value < least:
        return f"below {least:g}"
    return f"{value:.2g}"
