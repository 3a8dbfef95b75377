"""The one vocabulary of physical quantities: SI inside, people's units at the edge.

A :class:`Quantity` knows its SI unit, its metric and US display units, the range in which a value is
believable for a van, and a closed list of spellings that people write. The aliases (``Volume``, ``Flow``,
``Pressure`` ...) carry it as an annotation, so that the same word types a formula, reads the text of a plan,
labels a slider and bounds what is believable::

    class Tank(Part):
        capacity: Volume                                  # a float in m³, read from "75 L"

    def level(volume: Volume[Real]) -> Length[Array]: ... # SI numbers or arrays in, arrays out

Everything inside the package is a plain float or numpy array in coherent SI; no unit object travels.
"""

from vanwater.quantities.quantity import Array, Quantity, Real, Unit
from vanwater.quantities.reading import QuantityError, bare, errors_in, in_us
from vanwater.quantities.retold import retold
from vanwater.quantities.vocabulary import *  # noqa: F403 - the vocabulary is long and sorted there
from vanwater.quantities.vocabulary import __all__ as _names
from vanwater.quantities.writing import NO_BREAK, THOUSANDS, joined, number

__all__ = [  # noqa: PLE0604 - names of the vocabulary
    "NO_BREAK",
    "THOUSANDS",
    "Array",
    "Quantity",
    "QuantityError",
    "Real",
    "Unit",
    "bare",
    "errors_in",
    "in_us",
    "joined",
    "number",
    "retold",
    *_names,
]
