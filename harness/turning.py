"""What the current of an instrument turns over: diodes, relays and fuses."""

from collections.abc import Iterator

import numpy as np

from harness.circuit import FloatArray, IntArray, Role
from harness.solver import DROP_OUT_RATIO, FUSE_OPENS_AT
from harness.thevenin import Between, Relit

TURNS_ON_V = 1e-6
# Less than a voltmeter draws against a diode, more than rounding leaves.
TURNS_OFF_A = 1e-8
# No branch gains more than the instrument's own current; filaments that dim, a little.
GAINS_AT_MOST = 2.0


def turned_over(between: Between, amps: FloatArray, relit: Relit | None) -> IntArray:
    """Return the branch that an instrument's current turns over first.

    The order is that of `solver.disagreement`.

    Parameters
    ----------
    between : Between
    amps : ndarray of float, shape (m, n_pairs)
        What the instrument draws.
    relit : Relit or None
        What filaments draw more then.

    Returns
    -------
    ndarray of intp, shape (m, n_pairs)
        -1 where all agree.
    """
    out = np.full(amps.shape, -1, dtype=np.intp)
    pulls_in, lets_go = out.copy(), out.copy()
    for contact, is_pulled, coil_v in _coils(between, amps, relit):
        limit = float(between.group.base.net.limit[contact])
        if is_pulled:
            lets_go[(lets_go < 0) & (coil_v < DROP_OUT_RATIO * limit)] = contact
        else:
            pulls_in[(pulls_in < 0) & (coil_v >= limit)] = contact
    fuses = _worst(_loads(between, amps, relit), amps.shape, FUSE_OPENS_AT)
    diodes = _worst(_excesses(between, amps, relit), amps.shape, 1.0)
    # What comes later goes first.
    for found in (lets_go, fuses, pulls_in, diodes):
        out = np.where(found >= 0, found, out)
    return out


def _worst(
    found: Iterator[tuple[int, FloatArray]], shape: tuple[int, ...], limit: float
) -> IntArray:
    """Return the branch of the largest excess over a limit, -1 where none has it."""
    out, most = np.full(shape, -1, dtype=np.intp), np.full(shape, limit)
    for k, excess in found:
        over = excess > most
        out[over] = k
        most = np.where(over, excess, most)
    return out


def _coils(
    between: Between, amps: FloatArray, relit: Relit | None
) -> Iterator[tuple[int, bool, FloatArray]]:
    """Yield each relay's first contact, whether it is pulled, and its coil's volts."""
    base = between.group.base
    net = base.net
    for coil in np.unique(net.coil_of[net.coil_of >= 0]).tolist():
        contact = int(np.flatnonzero(net.coil_of == coil)[0])
        is_pulled = bool(base.on[contact] == (net.role[contact] == Role.MAKE))
        cut = between.group.cut(np.array([coil]))[between.inside]
        coil_v = np.abs(between.drop_with(coil, amps, relit))
        yield contact, is_pulled, np.where(cut, 0.0, coil_v)


def _loads(
    between: Between, amps: FloatArray, relit: Relit | None
) -> Iterator[tuple[int, FloatArray]]:
    """Yield each fuse's current as a share of its rating, where it may be too much."""
    group = between.group
    net = group.base.net
    most_a = GAINS_AT_MOST * float(np.abs(amps).max(initial=0.0))
    for k in net.of_role(Role.FUSE).tolist():
        one = np.array([k])
        before = np.abs(group.special_amps(one)[between.inside])
        if float(before.max(initial=0.0)) + most_a > FUSE_OPENS_AT * net.limit[k]:
            g_s = group.made_of(one)[0][between.inside]
            drop_v = np.abs(between.drop_with(k, amps, relit))
            yield k, g_s * drop_v / net.limit[k]


def _excesses(
    between: Between, amps: FloatArray, relit: Relit | None
) -> Iterator[tuple[int, FloatArray]]:
    """Yield how far each diode is on the wrong side, as a multiple of what turns it."""
    group = between.group
    net = group.base.net
    for k in net.of_role(Role.DIODE).tolist():
        over_v = between.drop_with(k, amps, relit) - net.emf_v[k]
        if group.base.on[k]:
            g_s = group.made_of(np.array([k]))[0][between.inside]
            yield k, -over_v * g_s / TURNS_OFF_A
        else:
            yield k, over_v / TURNS_ON_V
