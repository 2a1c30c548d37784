"""When to stop testing and change the suspect part instead.

The worth of a test is what it saves of the cost expected from acting now (value of
information; Howard 1966, check value G14). Acting now is changing the part whose waste
is expected to be least: if it was not to blame, its minutes and its price are lost.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from harness.circuit import FloatArray

# Minutes to change or remake a segment of each kind, its place open; our own judgement,
# common practice, no source.
CHANGE_MINUTES = MappingProxyType(
    {
        "wire": 25.0,
        "plug": 15.0,
        "joint": 15.0,
        "switch": 30.0,
        "relay": 5.0,
        "fuse": 2.0,
        "device": 10.0,
        "diode": 12.0,
        "battery": 8.0,
        "charger": 45.0,
    }
)


# Under even odds nobody changes a part; our own judgement.
LIKELY_ENOUGH = 0.5


@dataclass(frozen=True)
class Costs:
    """What work and parts cost, in one currency.

    Attributes
    ----------
    a_minute : float
        Of labour.
    parts : mapping of str to float
        Price of what would be fitted, by segment; nothing where it is not named.
    """

    a_minute: float = 1.0
    parts: Mapping[str, float] = field(default_factory=dict)

    def of_changing(self, segment: str) -> float:
        """Return what changing a segment costs, part and labour."""
        minutes = CHANGE_MINUTES[segment.partition(":")[0]]
        return minutes * self.a_minute + self.parts.get(segment, 0.0)


@dataclass(frozen=True)
class Stop:
    """Whether to stop testing, and what it is worth.

    Attributes
    ----------
    segment : str
        What to change if testing stops.
    probability : float
        That it is bad.
    waste : float
        Expected cost of changing it in vain.
    test_worth, test_cost : float
        What the next test saves of that on the average, and what it costs.
    hunt_cost : float
        What the rest of the hunt would cost.
    """

    segment: str
    probability: float
    waste: float
    test_worth: float
    test_cost: float
    hunt_cost: float

    @property
    def stop(self) -> bool:
        """Whether to act now.

        The part is to blame more likely than not, the next test is worth less than it
        costs, and what a right guess saves of the hunt is more than what a wrong one
        wastes: after that the hunt goes on.
        """
        saved = self.probability * self.hunt_cost
        likely = self.probability >= LIKELY_ENOUGH
        return likely and self.test_worth < self.test_cost and self.waste < saved


def weigh_stopping(
    bad: FloatArray,
    cost: FloatArray,
    groups: NDArray[np.intp],
    weight: FloatArray,
) -> tuple[int, float, float]:
    """Return the part to change now, its expected waste, and what a test saves of it.

    Parameters
    ----------
    bad : ndarray of bool, shape (m, n_parts)
        Which parts each hypothesis makes bad.
    cost : ndarray of float, shape (n_parts,)
        Of changing each.
    groups : ndarray of intp, shape (m,)
        The outcome of the test under each hypothesis.
    weight : ndarray of float, shape (m,)
        Probabilities of the hypotheses.

    Examples
    --------
    Suspects at 0.7 and 0.3, 60 lost on the wrong part: a perfect test saves 18 (G14).

    >>> part, waste, saved = weigh_stopping(
    ...     np.eye(2), np.array([60.0, 60.0]), np.array([0, 1]), np.array([0.7, 0.3])
    ... )
    >>> part, round(waste, 9), round(saved, 9)
    (0, 18.0, 18.0)
    """
    good = 1.0 - np.asarray(bad, dtype=np.float64)
    now = (weight @ good) * cost
    part = int(now.argmin())
    after = 0.0
    for outcome in np.unique(groups).tolist():
        inside = np.where(groups == outcome, weight, 0.0)
        after += float(((inside @ good) * cost).min())
    return part, float(now[part]), float(now[part]) - after
