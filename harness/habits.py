"""Two habits of the trade, as a measure for the advice.

Both take the path of the current to a consumer that the rider finds dead or weak, and
a voltmeter from the battery's earthed post. Walking goes outward from the feed post,
terminal by terminal, to the first one that reads wrong; a return that has lost its
earth reads high, so it goes on to the first that reads right again. Halving takes the
middle of what is left of the path each time.
"""

import heapq
from dataclasses import dataclass

import numpy as np

from harness.circuit import BoolArray, FloatArray, Network
from harness.consumers import Consumer, consumers
from harness.findings import Test
from harness.likelihood import eye_chances, volt_width
from harness.network import compile_network
from harness.predictions import Predictions
from harness.solver import solve_network

# A reading this many widths from what it should be is wrong.
WRONG = 4.0


@dataclass(frozen=True)
class Path:
    """The terminals that the current to a consumer passes, feed post first.

    Attributes
    ----------
    terminals : tuple of str
        Feed side up to and with the consumer's first pin, then its second and the
        return to the earthed post.
    feed_count : int
        How many of them lie on the feed side.
    """

    consumer: Consumer
    terminals: tuple[str, ...]
    feed_count: int


def _shortest(
    net: Network, on: BoolArray, start: int, goal: int, through: int
) -> list[int]:
    """Return the nodes of the path of least resistance, not through one branch."""
    near: dict[int, list[tuple[int, float]]] = {}
    for k in np.flatnonzero(on).tolist():
        if k != through:
            a, b, ohm = int(net.a[k]), int(net.b[k]), 1.0 / float(net.g_s[k])
            near.setdefault(a, []).append((b, ohm))
            near.setdefault(b, []).append((a, ohm))
    best = {start: (0.0, start)}
    queue = [(0.0, start)]
    while queue:
        ohm, node = heapq.heappop(queue)
        if node == goal:
            break
        for other, step in near.get(node, ()):
            if other not in best or ohm + step < best[other][0]:
                best[other] = (ohm + step, node)
                heapq.heappush(queue, (ohm + step, other))
    path = [goal]
    while path[-1] != start:
        path.append(best[path[-1]][1])
    return path[::-1]


class Habits:
    """The habits on one harness."""

    def __init__(self, predictions: Predictions) -> None:
        self.predictions = predictions
        self._paths: dict[str, Path] = {}
        self._volts: dict[str, FloatArray] = {}

    def complaint(self, row: int) -> Consumer:
        """Return the first consumer that a hypothesis makes dead, else weak."""
        for word in (2, 1):
            for consumer in consumers(self.predictions.h):
                test = Test(rig=consumer.rig, tool="eye", device=consumer.device)
                shown = self.predictions.shown(test)[row : row + 1]
                if int(eye_chances(shown)[:, 0].argmax()) == word:
                    return consumer
        # Only another rig shows it: the last consumer will do.
        return consumers(self.predictions.h)[-1]

    def path(self, consumer: Consumer) -> Path:
        """Return the current's path to a consumer and back in the healthy bike."""
        if (key := _key(consumer)) not in self._paths:
            h = self.predictions.h
            net = compile_network(h, consumer.rig)
            solution = solve_network(net)
            own = net.branch_of[consumer.segment]
            ends = [net.node_of[end] for end in consumer.ends]
            feed, earth = net.node_of[h.feed_pin], net.node_of[h.earthed_pin]
            if abs(solution.volts[ends[0]]) < abs(solution.volts[ends[1]]):
                ends.reverse()
            sources = [
                k for k, s in enumerate(net.segments) if s.startswith("battery:")
            ]
            on = solution.on.copy()
            on[sources] = False
            out = _shortest(net, on, feed, ends[0], own)
            back = _shortest(net, on, ends[1], earth, own)
            named = {i: t for t, i in reversed(list(net.node_of.items()))}
            points = [named[i] for i in (*out, *back) if not named[i].endswith(".*")]
            count = sum(1 for i in out if not named[i].endswith(".*"))
            self._paths[key] = Path(consumer, tuple(points), count)
        return self._paths[key]

    def wrong(self, row: int) -> tuple[Path, list[bool]]:
        """Return which terminals of the path read wrong under a hypothesis."""
        consumer = self.complaint(row)
        path = self.path(consumer)
        if (key := _key(consumer)) not in self._volts:
            clip = self.predictions.h.earthed_pin
            shown = [
                self.predictions.shown(Test(consumer.rig, "voltmeter", t, clip))
                for t in path.terminals[:-1]
            ]
            self._volts[key] = np.stack([*shown, np.zeros_like(shown[0])])
        volts = self._volts[key]
        away = np.abs(volts[:, row] - volts[:, 0])
        return path, (away > WRONG * volt_width(volts[:, 0])).tolist()

    def walking(self, row: int) -> int:
        """Return how many tests walking outward takes."""
        path, wrong = self.wrong(row)
        for number, is_wrong in enumerate(wrong[: path.feed_count], start=1):
            if is_wrong:
                return number
        seen_wrong = False
        for number in range(path.feed_count, len(wrong)):
            if seen_wrong and not wrong[number]:
                return number + 1
            seen_wrong = seen_wrong or wrong[number]
        return len(wrong)

    def halving(self, row: int) -> int:
        """Return how many tests halving takes."""
        path, wrong = self.wrong(row)
        low, high, tests = -1, len(wrong) - 1, 0
        while high - low > 1:
            middle = (low + high) // 2
            tests += 1
            on_feed = middle < path.feed_count
            fault_is_further_on = not wrong[middle] if on_feed else wrong[middle]
            low, high = (middle, high) if fault_is_further_on else (low, middle)
        return tests


def _key(consumer: Consumer) -> str:
    return f"{consumer.device} {consumer.rig.moved}"
