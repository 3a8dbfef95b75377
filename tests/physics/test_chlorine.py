import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.chlorine import (
    CHLORINE_IN_CALCIUM_HYPOCHLORITE,
    CHLORINE_IN_HYPOCHLORITE,
    Basis,
    available_chlorine,
    available_share,
    dry_dose,
    level_of_dry,
    level_of_liquid,
    liquid_dose,
)

VOLUMES = st.floats(1e-3, 1.0)
LEVELS = st.floats(0.0, 0.2)
STRENGTHS = st.floats(0.005, 1.0)
PRODUCTS = st.floats(5.0, 200.0)


def test_the_shares_of_chlorine_are_those_of_the_molecules():
    assert pytest.approx(0.9525, abs=5e-5) == CHLORINE_IN_HYPOCHLORITE
    assert pytest.approx(0.992, abs=5e-4) == CHLORINE_IN_CALCIUM_HYPOCHLORITE


def test_one_label_read_in_four_ways_gives_four_products():
    read = {basis: float(available_chlorine(0.05, basis, 1080.0)) for basis in Basis}
    assert read[Basis.CHLORINE_BY_VOLUME] == pytest.approx(50.0)
    assert read[Basis.CHLORINE_BY_WEIGHT] == pytest.approx(54.0)
    assert read[Basis.HYPOCHLORITE_BY_VOLUME] == pytest.approx(50.0 * CHLORINE_IN_HYPOCHLORITE)
    assert read[Basis.HYPOCHLORITE_BY_WEIGHT] == pytest.approx(54.0 * CHLORINE_IN_HYPOCHLORITE)
    apart = [one / other for one in read.values() for other in read.values() if one > other]
    assert min(apart) > 1.02 and max(apart) < 1.14


@given(STRENGTHS, st.floats(1000.0, 1300.0))
def test_density_counts_by_weight_only(strength, density):
    for chlorine, weight in (
        (Basis.CHLORINE_BY_WEIGHT, density / 1000.0),
        (Basis.CHLORINE_BY_VOLUME, 1.0),
        (Basis.HYPOCHLORITE_BY_VOLUME, CHLORINE_IN_HYPOCHLORITE),
    ):
        assert float(available_chlorine(strength, chlorine, density)) == pytest.approx(1000.0 * strength * weight)


@given(VOLUMES, LEVELS, PRODUCTS, st.floats(0.0, 0.05))
def test_a_liquid_dose_makes_the_level_it_was_meant_for(volume, level, chlorine, present):
    dose = liquid_dose(volume, level, chlorine, present)
    made = float(level_of_liquid(dose, chlorine, volume)) + present
    assert made == pytest.approx(max(level, present), abs=1e-12)


@given(VOLUMES, LEVELS, STRENGTHS, st.floats(0.0, 0.05))
def test_a_dry_dose_makes_the_level_it_was_meant_for(volume, level, strength, present):
    dose = dry_dose(volume, level, strength, present)
    assert float(level_of_dry(dose, strength, volume)) + present == pytest.approx(max(level, present), abs=1e-12)


@given(VOLUMES, LEVELS, STRENGTHS)
def test_dry_and_liquid_carry_the_same_chlorine(volume, level, strength):
    liquid = liquid_dose(volume, level, available_chlorine(strength, Basis.CHLORINE_BY_WEIGHT, 1100.0))
    assert float(dry_dose(volume, level, strength)) == pytest.approx(1100.0 * float(liquid), abs=1e-12)


def test_several_products_and_tanks_at_once():
    products = available_chlorine(np.array([0.05, 0.0825]), Basis.CHLORINE_BY_VOLUME)
    doses = liquid_dose(np.array([[0.08], [0.12]]), 50e-3, products)
    assert doses.shape == (2, 2)
    assert doses[1] == pytest.approx(1.5 * doses[0])
    assert doses[0, 0] / doses[0, 1] == pytest.approx(0.0825 / 0.05)


def test_calcium_hypochlorite_holds_almost_its_mass_of_chlorine():
    assert float(available_share(0.65)) == pytest.approx(0.6447, abs=1e-4)


@pytest.mark.parametrize(
    ("name", "call"),
    [
        ("strength", lambda: available_chlorine(0.0, Basis.CHLORINE_BY_VOLUME)),
        ("strength", lambda: available_chlorine(5.25, Basis.CHLORINE_BY_VOLUME)),
        ("density", lambda: available_chlorine(0.05, Basis.HYPOCHLORITE_BY_WEIGHT, 0.0)),
        ("Basis", lambda: available_chlorine(0.05, "by taste")),
        ("strength", lambda: available_share(1.2)),
        ("chlorine", lambda: liquid_dose(0.08, 0.05, 0.0)),
        ("volume", lambda: liquid_dose(-0.08, 0.05, 50.0)),
        ("level", lambda: dry_dose(0.08, -0.05, 0.65)),
        ("present", lambda: dry_dose(0.08, 0.05, 0.65, -1e-3)),
        ("volume", lambda: level_of_liquid(1e-4, 50.0, 0.0)),
        ("product", lambda: level_of_dry(-1e-3, 0.65, 0.08)),
    ],
)
def test_what_cannot_be_is_refused(name, call):
    with pytest.raises(ValueError, match=name):
        call()
