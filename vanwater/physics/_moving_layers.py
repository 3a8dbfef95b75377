"""A column of water as layers that move with it: a front stays where the water is, and no layer is mixed by the sum.

Layers lie bottom first on the last axis, each with its own volume, and rise with the water that is drawn above them.
New water is a new layer. Where there are more than are kept, the two neighbours become one that lose least by it. A
layer without volume stands on top, as warm as the top, and counts for nothing.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from vanwater.quantities import Array

__all__ = ["Layers", "drawn", "equal_layers", "heated", "lacking", "ready", "settled", "temperature_at"]

_SLACK = 1e-9  # K, an inversion smaller than this is rounding


class Layers(NamedTuple):
    """Volumes [m³] and temperatures [K] of the layers."""

    volume: Array
    warmth: Array


class _Column(NamedTuple):
    """Heat above the cold water from the top down, in K·m³: plug, then the stirred part that flows up behind it."""

    depths: Array
    heats: Array
    plug: Array
    stirred: Array
    excess: Array

    def heat(self, depth: Array) -> Array:
        """Heat from the top down to a depth."""
        flowed = -np.expm1(-np.maximum(depth - self.plug, 0.0) / np.where(self.stirred > 0, self.stirred, 1.0))
        return _between(np.minimum(depth, self.plug), self.depths, self.heats) + self.excess * self.stirred * flowed

    def depth(self, heat: Array) -> Array:
        """Depth down to which there is so much heat, infinite where there is less."""
        rising = np.maximum.accumulate(self.heats, axis=-1)  # layers colder than the inlet take heat back
        held, at_plug = self.excess * self.stirred, rising[..., -1:]
        flowed = np.where(held > 0, (heat - at_plug) / np.where(held > 0, held, 1.0), np.inf)
        behind = self.plug - self.stirred * np.log1p(-np.minimum(flowed, 1.0 - 1e-15))
        deep = np.where(flowed < 1.0, behind, np.inf)
        return np.where(heat <= at_plug, _between(heat, rising, self.depths), deep)


def drawn(layers: Layers, asked: Array, rise: Array, inlet: Array, stirred: Array) -> tuple[Layers, Array, Array]:
    """Layers after a draw at a mixing valve, the hot water it took, and the heat above the cold water that left.

    The bottom is stirred while cold water enters; what it pushes up becomes a layer of its own.
    """
    plugs, column = _column(layers, inlet, stirred)
    with np.errstate(invalid="ignore"):  # nothing asked at an infinite temperature
        wanted = np.where(asked > 0, asked * np.maximum(rise, 0.0), 0.0)
    taken = np.where(wanted > 0, np.minimum(column.depth(wanted), asked), 0.0)
    flows = taken > 0
    gone = np.where(flows, column.heat(taken), 0.0)
    rate = np.where(stirred > 0, stirred, 1.0)
    pushed = np.minimum(taken, column.plug)
    before, left = (column.excess * np.exp(-volume / rate) for volume in (taken - pushed, taken))
    risen = (before - left) * stirred / np.where(pushed > 0, pushed, 1.0)
    kept = np.minimum(plugs, np.maximum(column.depths[..., 1:] - taken, 0.0)[..., ::-1])
    volume = np.concatenate(
        [np.where(flows, stirred, 0.0), np.where(flows, pushed, 0.0), np.where(flows, kept, layers.volume)], axis=-1
    )
    rows = layers.warmth.shape[:-1]
    warmth = np.concatenate(
        [np.broadcast_to(inlet + left, (*rows, 1)), np.broadcast_to(inlet + risen, (*rows, 1)), layers.warmth], axis=-1
    )
    return _fewer(Layers(volume, warmth), layers.volume.shape[-1]), taken, gone


def _column(layers: Layers, inlet: Array, stirred: Array) -> tuple[Array, _Column]:
    """What of each layer lies above the stirred part, and the column seen from the top."""
    within = _below(layers, stirred)
    plugs, warm = layers.volume - within, layers.warmth - inlet
    excess = np.where(
        stirred > 0, np.sum(within * warm, axis=-1, keepdims=True) / np.where(stirred > 0, stirred, 1.0), 0.0
    )
    down = plugs[..., ::-1]
    depths, heats = _summed(down), _summed(down * warm[..., ::-1])
    return plugs, _Column(depths, heats, depths[..., -1:], stirred, excess)


def ready(layers: Layers, rise: Array, inlet: Array, stirred: Array) -> Array:
    """Water that a mixing valve gives so much above the inlet, drawn at once; NaN for hot water alone."""
    plugs, column = _column(layers, inlet, stirred)
    warm = layers.warmth - inlet
    hot = np.sum(np.where(warm >= rise - _SLACK, plugs * warm, 0.0), axis=-1, keepdims=True)
    behind = stirred * np.maximum(column.excess - rise, 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(np.isfinite(rise), (hot + behind) / rise, np.nan)


def lacking(layers: Layers, target: Array, low: Array) -> Array:
    """Heat, in K·m³, that water above the height below which ``low`` lies takes up to a temperature."""
    above = layers.volume - _below(layers, low) if (low > 0).any() else layers.volume
    return np.asarray(np.sum(above * np.maximum(target - layers.warmth, 0.0), axis=-1, keepdims=True))


def heated(layers: Layers, heat: Array, low: Array) -> Layers:
    """Layers after heat, in K·m³, at the height below which ``low`` lies: it fills up the coldest water above first."""
    parts = layers
    if (low > 0).any():
        below = _below(layers, low)
        parts = Layers(
            np.concatenate([below, layers.volume - below], axis=-1), np.concatenate([layers.warmth] * 2, axis=-1)
        )
    first = parts.volume.shape[-1] - layers.volume.shape[-1]
    reach, warmth = parts.volume[..., first:], parts.warmth[..., first:]
    widths = np.cumsum(reach, axis=-1)
    with np.errstate(divide="ignore", invalid="ignore"):
        levels = np.where(widths > 0, (heat + np.cumsum(reach * warmth, axis=-1)) / widths, np.inf)
    raised = np.where(heat > 0, np.maximum(warmth, np.min(levels, axis=-1, keepdims=True)), warmth)
    filled = Layers(parts.volume, np.concatenate([parts.warmth[..., :first], raised], axis=-1))
    return _fewer(filled, layers.volume.shape[-1]) if first else filled


def _below(layers: Layers, low: Array) -> Array:
    """What of each layer lies within the lowest water of that volume."""
    return np.minimum(np.maximum(low - _summed(layers.volume)[..., :-1], 0.0), layers.volume)


def settled(layers: Layers) -> Layers:
    """Layers after warm water has risen through colder water above it; their heat is kept."""
    if not (layers.warmth[..., 1:] - layers.warmth[..., :-1] < -_SLACK).any():
        return layers
    count = layers.volume.shape[-1]
    weight = np.maximum(layers.volume, 1e-14 * np.sum(layers.volume, axis=-1, keepdims=True))
    weights, sums = _summed(weight), _summed(weight * layers.warmth)
    ordered = np.arange(count)[None, :] >= np.arange(count)[:, None]
    spans = np.where(ordered, weights[..., None, 1:] - weights[..., :-1, None], 1.0)
    means = np.where(ordered, (sums[..., None, 1:] - sums[..., :-1, None]) / spans, np.inf)  # axes (first, last)
    least = np.minimum.accumulate(means[..., ::-1], axis=-1)[..., ::-1]  # over all last from here on
    return Layers(layers.volume, np.max(np.where(ordered, least, -np.inf), axis=-2))


def temperature_at(layers: Layers, height: Array) -> Array:
    """Temperature of the layer at a height, told as the volume below it."""
    place = (layers.volume.cumsum(axis=-1) <= height).sum(axis=-1, keepdims=True)
    return np.asarray(layers.warmth.take(_places(layers.warmth, np.minimum(place, layers.volume.shape[-1] - 1))))


def equal_layers(layers: Layers) -> Array:
    """Temperatures in as many layers of equal volume; their heat is kept."""
    count = layers.volume.shape[-1]
    edges = _summed(layers.volume)
    heights = edges[..., -1:] * np.linspace(0.0, 1.0, count + 1)
    heats = _between(heights, edges, _summed(layers.volume * layers.warmth))
    return np.asarray(np.diff(heats, axis=-1) / (edges[..., -1:] / count))


def _fewer(layers: Layers, count: int) -> Layers:
    """As many layers as are kept: empty ones go on top, then the neighbours become one that lose least."""
    order = np.argsort(layers.volume <= 0, axis=-1, kind="stable")
    at = _places(layers.volume, order)
    volume, warmth = (each.take(at) for each in layers)
    while volume.shape[-1] > count:
        if (volume[..., -1] > 0).any():
            volume, warmth = _merged(volume, warmth)
        else:
            volume, warmth = volume[..., :-1], warmth[..., :-1]
    top = np.max(np.where(volume > 0, warmth, -np.inf), axis=-1, keepdims=True)
    return Layers(volume, np.where(volume > 0, warmth, top))


def _merged(volume: Array, warmth: Array) -> tuple[Array, Array]:
    """One layer fewer."""
    lower, upper = volume[..., :-1], volume[..., 1:]
    both = lower + upper
    whole = np.where(both > 0, both, 1.0)
    place = np.argmin(lower * upper / whole * np.diff(warmth, axis=-1) ** 2, axis=-1)[..., None]
    mean = np.where(both > 0, (lower * warmth[..., :-1] + upper * warmth[..., 1:]) / whole, warmth[..., :-1])
    at = np.arange(volume.shape[-1] - 1)
    volume, warmth = (
        np.where(at < place, each[..., :-1], np.where(at > place, each[..., 1:], joined))
        for each, joined in ((volume, both), (warmth, mean))
    )
    return volume, warmth


def _between(x: Array, xs: Array, ys: Array) -> Array:
    """Straight between points whose x does not fall, row by row on the last axis."""
    piece = (xs[..., None, 1:-1] <= x[..., None]).sum(axis=-1)
    rows = piece.shape[:-1]
    if xs.shape[:-1] != rows or ys.shape[:-1] != rows:
        xs, ys = np.broadcast_to(xs, (*rows, xs.shape[-1])), np.broadcast_to(ys, (*rows, ys.shape[-1]))
    at = _places(xs, piece)
    x0, x1, y0, y1 = (e.take(at + k) for e in (xs, ys) for k in (0, 1))
    return y0 + (y1 - y0) * np.minimum(np.maximum((x - x0) / np.where(x1 > x0, x1 - x0, 1.0), 0.0), 1.0)


def _places(values: Array, along: npt.NDArray[np.intp]) -> npt.NDArray[np.intp]:
    """Places along the last axis, row by row, as places among all values: ``take_along_axis`` costs five times more."""
    begins = np.arange(0, values.size, values.shape[-1]).reshape(*values.shape[:-1], 1)
    return np.asarray(begins + along)


def _summed(values: Array) -> Array:
    sums = np.zeros((*values.shape[:-1], values.shape[-1] + 1))
    values.cumsum(axis=-1, out=sums[..., 1:])
    return sums
