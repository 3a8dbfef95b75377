from __future__ import annotations

from tests.examples import example
from vanwater.plan.tables import pipes
from vanwater.system.remedies import next_size, way_remedies
from vanwater.system.ways import way_to

FAMILY = example("family-winter")
LONG = example("long-stay-dry-toilet")


def kinds(name: str) -> dict[str, str]:
    plan = {"family": FAMILY, "long": LONG}[name]
    return {remedy.row.key: remedy.kind for remedy in way_remedies(plan, way_to(plan, "shower"))}


def test_next_size_stays_in_its_family() -> None:
    assert next_size("pvc hose 8 mm").key == "pvc hose 10 mm"  # type: ignore[union-attr]
    assert next_size("pvc hose 19 mm") is None
    for row in pipes().values():
        larger = next_size(row.key)
        assert larger is None or (larger.bore > row.bore and larger.material == row.material)


def test_every_kind_of_remedy_is_offered_where_it_applies() -> None:
    assert kinds("family")["volts pump"] == "volts"
    assert kinds("family")["sweep bends to shower"] == "bends"
    assert kinds("family")["wider handset hose"] == "wider"
    assert kinds("long")["no filter trunk"] == "filter"
    assert kinds("long")["clean suction"] == "clean"
    assert "volts pump" not in kinds("long")  # its volts are above those of the curve


def test_bends_replace_as_many_elbows() -> None:
    remedy = next(one for one in way_remedies(FAMILY, way_to(FAMILY, "shower")) if one.kind == "bends")
    for address, fittings in remedy.row.values.items():
        assert sum(fittings.values()) == sum(FAMILY.at(address).values())
        assert not any("elbow" in kind for kind in fittings)
