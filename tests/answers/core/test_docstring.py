from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest

from vanwater.answers.core.docstring import documented
from vanwater.quantities import (
    ABSOLUTE_PRESSURE,
    FLOW,
    PRESSURE,
    RATIO,
    VOLUME,
    AbsolutePressure,
    Array,
    Flow,
    Pressure,
    Ratio,
    Real,
    Volume,
)


def drawdown(
    volume: Volume[Real],
    precharge: AbsolutePressure[Real],
    cut_in: AbsolutePressure[Real],
    cut_out: AbsolutePressure[Real],
) -> Volume[Array]:
    """Water that an accumulator gives between
    the switch pressures.

    Formula: V p₀ (1/max(p_in, p₀) − 1/p_out)

    Parameters
    ----------
    volume : float or array
        Gas volume of the empty accumulator, V [m³].
    precharge : float or array
        Gas pressure of the empty accumulator, absolute,
        p₀ [Pa].
    cut_in, cut_out : float or array
        Switch pressures, absolute [Pa].

    Returns
    -------
    array
        Water given between the switch pressures [m³].

    Notes
    -----
    Isothermal: the gas keeps
    its temperature.

    References
    ----------
    Boyle (1662), from memory,
    page 60.
    """
    start = np.maximum(np.asarray(cut_in), precharge)
    return np.asarray(volume * precharge * (1 / start - 1 / np.asarray(cut_out)))


@dataclass(frozen=True)
class Point:
    """Where pump and line meet.

    Parameters
    ----------
    flow : array
        Flow through the pump [m³/s].
    pressure : array
        Pressure behind it, gauge [Pa].
    steady : bool
        Whether it settles.
    """

    flow: Flow[Array]
    pressure: Pressure[Array]
    steady: bool


def meet(
    flows: Flow[Array],
    pressures: Pressure[Array],
    constant: Ratio[Real] | None = None,
    gain: Ratio[Real] = 2.0,
) -> Point:
    """Where a pump's curve meets a line.

    Parameters
    ----------
    flows : array
        Points of the curve [m³/s].
    pressures : array
        Their pressures, gauge [Pa].
    constant : float or array, optional
        Anything, e.g. a [-], and more.
    gain : float or array
        A gain, e [-].

    Returns
    -------
    Point
        The meeting point.
    """
    return Point(np.asarray(flows) * (constant or 1.0), np.asarray(pressures) * gain, True)


def silent(x: float) -> float:
    return x


def test_first_sentence_formula_note_and_source_are_read_as_running_text():
    read = documented(drawdown)
    assert read.meaning == "Water that an accumulator gives between the switch pressures."
    assert read.formula == "V p₀ (1/max(p_in, p₀) − 1/p_out)"
    assert read.note == "Isothermal: the gas keeps its temperature."
    assert read.source == "Boyle (1662), from memory, page 60."
    assert read.name.endswith("test_docstring.drawdown")


def test_arguments_have_meaning_symbol_unit_and_quantity():
    read = documented(drawdown)
    assert list(read.arguments) == ["volume", "precharge", "cut_in", "cut_out"]
    volume, precharge, cut_in, cut_out = read.arguments.values()
    assert (volume.meaning, volume.symbol, volume.unit) == ("Gas volume of the empty accumulator", "V", "m³")
    assert (precharge.meaning, precharge.symbol) == ("Gas pressure of the empty accumulator, absolute", "p₀")
    assert cut_in == cut_out
    assert (cut_in.meaning, cut_in.symbol, cut_in.unit) == ("Switch pressures, absolute", "", "Pa")
    assert [one.quantity for one in (volume, precharge, cut_in)] == [VOLUME, ABSOLUTE_PRESSURE, ABSOLUTE_PRESSURE]
    assert not any(one.series for one in read.arguments.values())
    assert read.returns.unit == "m³"


def test_the_quantity_of_the_result_is_that_of_its_annotation():
    assert documented(drawdown).result() == (VOLUME, "")
    assert documented(meet).result("flow") == (FLOW, "Flow through the pump")


def test_fields_of_a_result_are_read_from_its_class():
    read = documented(meet)
    assert [one.quantity for one in read.fields.values()] == [FLOW, PRESSURE, None]
    with pytest.raises(ValueError, match="take one of its fields: flow, pressure, steady"):
        read.result()
    with pytest.raises(ValueError, match="no field"):
        read.result("flux")
    with pytest.raises(ValueError, match="no quantity"):
        read.result("steady")


def test_whole_curves_defaults_and_optional_arguments():
    flows, pressures, constant, gain = documented(meet).arguments.values()
    assert (flows.series, pressures.series, constant.series, gain.series) == (True, True, False, False)
    assert (constant.quantity, gain.quantity) == (RATIO, RATIO)
    assert (constant.default, gain.default) == (None, 2.0)


def test_a_letter_is_a_symbol_only_where_the_formula_has_it():
    _flows, pressures, constant, gain = documented(meet).arguments.values()
    assert pressures.meaning == "Their pressures, gauge"
    assert (gain.meaning, gain.symbol) == ("A gain, e", "")
    assert (constant.unit, constant.symbol) == ("-", "")


def test_a_function_that_says_nothing_reads_as_empty():
    read = documented(silent)
    assert (read.meaning, read.formula, read.note, read.source) == ("", "", "", "")
    with pytest.raises(ValueError, match="no quantity"):
        read.result()


def test_reading_is_kept_for_each_function():
    assert documented(drawdown) is documented(drawdown)


def test_only_plain_functions_can_be_read():
    with pytest.raises(TypeError, match="no plain function"):
        documented(np.sin)
