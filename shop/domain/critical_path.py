"""The critical path: earliest and latest start and finish, and float (CPM).

A task starts when all that it needs is finished, and not before its own release. The
forward pass gives the earliest times; the backward pass, from the last finish, the
latest ones that delay nothing. A task without float between the two is critical. All
times are whole units from the start; arrays hold tasks by row and, where there are
several draws, draws by column, so that one pass serves all of them.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shop.domain.estimates import Whole
from shop.domain.tasks import find_cycle


@dataclass(frozen=True, slots=True)
class Network:
    """Tasks and what each needs, by row; whatever is needed stands before.

    Parameters
    ----------
    tasks : tuple of int
        The tasks' own ids, by row.
    needs : tuple of tuple of int
        For each row, the rows that must be finished first.
    """

    tasks: tuple[int, ...]
    needs: tuple[tuple[int, ...], ...]

    @classmethod
    def of(cls, needs: Mapping[int, Iterable[int]]) -> "Network":
        """Return the network of these needs, otherwise in the order given.

        Raises
        ------
        ValueError
            Where tasks need each other in a circle.

        Examples
        --------
        >>> Network.of({7: [9], 9: [], 4: [7]}).tasks
        (9, 7, 4)
        """
        asked = {task: tuple(wanted) for task, wanted in needs.items()}
        circle = find_cycle(asked)
        if circle:
            raise ValueError(f"tasks need each other in a circle: {circle}")
        order: list[int] = []
        placed: set[int] = set()
        for task in asked:
            _place(task, asked, order, placed)
        row = {task: number for number, task in enumerate(order)}
        rows = (tuple(row[wanted] for wanted in asked.get(task, ())) for task in order)
        return cls(tuple(order), tuple(rows))

    @property
    def needed_by(self) -> tuple[tuple[int, ...], ...]:
        """Return, for each row, the rows that wait for it."""
        waiting: list[list[int]] = [[] for _ in self.tasks]
        for row, wanted in enumerate(self.needs):
            for other in wanted:
                waiting[other].append(row)
        return tuple(tuple(rows) for rows in waiting)


def _place(
    task: int, needs: Mapping[int, tuple[int, ...]], order: list[int], placed: set[int]
) -> None:
    stack = [task]
    while stack:
        top = stack[-1]
        missing = [w for w in needs.get(top, ()) if w not in placed]
        if top not in placed and missing:
            stack.extend(reversed(missing))
            continue
        stack.pop()
        if top not in placed:
            placed.add(top)
            order.append(top)


@dataclass(frozen=True, slots=True)
class Times:
    """What both passes say, by row of the network (and by draw).

    Parameters
    ----------
    earliest_start, earliest_finish, latest_start, latest_finish : ndarray of int
        Units from the start.
    finish : ndarray of int
        When all is done; one number for each draw.
    """

    earliest_start: Whole
    earliest_finish: Whole
    latest_start: Whole
    latest_finish: Whole
    finish: Whole

    @property
    def total_float(self) -> Whole:
        """Return how much each may slip before the whole is later."""
        return self.latest_start - self.earliest_start

    @property
    def is_critical(self) -> NDArray[np.bool_]:
        """Return whether each may not slip at all."""
        return np.equal(self.total_float, 0)


def times(network: Network, durations: Whole, *, release: Whole | None = None) -> Times:
    """Pass forward and backward over the network.

    Parameters
    ----------
    durations : ndarray of int, shape (tasks,) or (tasks, draws)
        How long each takes.
    release : ndarray of int, the same shape, optional
        When each may start at all: a part that comes, an outside shop.

    Examples
    --------
    >>> network = Network.of({1: [], 2: [], 3: [1, 2]})
    >>> passed = times(network, np.array([4, 6, 3]))
    >>> int(passed.finish), passed.total_float.tolist()
    (9, [2, 0, 0])
    """
    start = np.zeros_like(durations) if release is None else release.copy()
    finish = np.empty_like(durations)
    for row, wanted in enumerate(network.needs):
        for other in wanted:
            np.maximum(start[row], finish[other], out=start[row, ...])
        finish[row] = start[row] + durations[row]
    end = finish.max(axis=0)
    latest = np.broadcast_to(end, durations.shape).copy()
    latest_start = np.empty_like(durations)
    waiting = network.needed_by
    for row in range(len(network.tasks) - 1, -1, -1):
        for other in waiting[row]:
            np.minimum(latest[row], latest_start[other], out=latest[row, ...])
        latest_start[row] = latest[row] - durations[row]
    return Times(start, finish, latest_start, latest, end)


def free_float(network: Network, passed: Times) -> Whole:
    """Return how much each may slip before any task that waits for it is later.

    Examples
    --------
    >>> network = Network.of({1: [], 2: [], 3: [1, 2]})
    >>> free_float(network, times(network, np.array([4, 6, 3]))).tolist()
    [2, 0, 0]
    """
    free = np.broadcast_to(passed.finish, passed.earliest_finish.shape).copy()
    for row, waiting in enumerate(network.needed_by):
        for other in waiting:
            np.minimum(free[row], passed.earliest_start[other], out=free[row, ...])
    return free - passed.earliest_finish


def critical_path(network: Network, passed: Times) -> tuple[int, ...]:
    """Return the ids along one critical path, first to last, of a single draw.

    Walks back from a last finish through whatever need was finished just then; a
    task that waited for its release alone begins the path.

    Examples
    --------
    >>> network = Network.of({1: [], 2: [], 3: [1, 2]})
    >>> critical_path(network, times(network, np.array([4, 6, 3])))
    (2, 3)
    """
    if not network.tasks:
        return ()
    row: int | None = int(np.argmax(passed.earliest_finish))
    path: list[int] = []
    while row is not None:
        path.append(network.tasks[row])
        begun = passed.earliest_start[row]
        row = next(
            (w for w in network.needs[row] if passed.earliest_finish[w] == begun), None
        )
    return tuple(reversed(path))
