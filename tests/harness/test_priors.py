"""How likely each fault is before anything is known."""

from functools import cache

import numpy as np
import pytest

from harness.faults import Fault, single_faults
from harness.model import Harness
from harness.priors import (
    NOTHING_WRONG,
    RATES,
    default_rates,
    kind_of_segment,
    log_priors,
)
from harness.segments import segments_of
from tests.harness.library import LOOMS, loom
from tests.harness.small_looms import horn_and_tail, relay_and_charger


@cache
def bike() -> Harness:
    return horn_and_tail()


def prior(h: Harness, fault: Fault | None) -> float:
    p = np.exp(log_priors(h))
    return float(p[0 if fault is None else 1 + single_faults(h).index(fault)])


@pytest.mark.parametrize("file", LOOMS)
def test_priors_sum_to_one_and_leave_room_for_nothing_wrong(file: str) -> None:
    p = np.exp(log_priors(loom(file)))
    assert p.shape == (1 + len(single_faults(loom(file))),)
    assert float(p.sum()) == pytest.approx(1.0)
    assert float(p[0]) == pytest.approx(NOTHING_WRONG)
    assert float(p.min()) > 0


@pytest.mark.parametrize("file", LOOMS)
def test_every_way_to_be_bad_has_a_rate(file: str) -> None:
    h = loom(file)
    rates = default_rates(h)
    assert set(rates) == {
        (s.name, mode) for s in segments_of(h).values() for mode in s.modes
    }
    assert min(rates.values()) > 0


def test_bulbs_fail_most_and_joints_inside_the_loom_least() -> None:
    # Our own judgement of decades-old looms (common practice, no source).
    assert RATES["lamp"]["dead"] == max(
        r for kind in RATES.values() for r in kind.values()
    )
    assert RATES["joint"]["open"] < RATES["wire"]["open"] < RATES["plug"]["open"]
    stop = prior(bike(), Fault("device:rear-lamp.stop", "dead"))
    assert stop > prior(bike(), Fault("device:horn", "dead"))


def test_the_sizes_of_a_bad_contact_share_its_rate() -> None:
    sizes = [f for f in single_faults(bike()) if f.segment == "wire:5"]
    contact = [f for f in sizes if f.mode == "resistive"]
    shares = [prior(bike(), f) for f in contact]
    assert shares == pytest.approx([shares[0]] * len(shares))
    whole = prior(bike(), Fault("wire:5", "open"))
    ratio = RATES["wire"]["resistive"] / RATES["wire"]["open"]
    assert sum(shares) == pytest.approx(ratio * whole)


@pytest.mark.parametrize(
    ("segment", "kind"),
    [
        ("wire:13", "cable"),
        ("wire:1", "wire"),
        ("device:horn", "load"),
        ("device:rear-lamp.tail", "lamp"),
        ("plug:tail-plug.1", "plug"),
        ("switch:key-switch.ON.30-15", "switch"),
    ],
)
def test_each_segment_has_the_rates_of_its_kind(segment: str, kind: str) -> None:
    found = segments_of(bike())[segment]
    assert kind_of_segment(bike(), found) == kind
    for mode in found.modes:
        assert default_rates(bike())[segment, mode] == RATES[kind][mode]


def test_rates_of_one_s_own_replace_the_defaults_of_those_faults_only() -> None:
    more = log_priors(bike(), {("wire:5", "open"): 100.0})
    plain = log_priors(bike())
    row = 1 + single_faults(bike()).index(Fault("wire:5", "open"))
    assert float(np.exp(more[row])) > 20 * float(np.exp(plain[row]))
    others = np.delete(np.arange(1, len(plain)), row - 1)
    ratio = np.exp(more[others] - plain[others])
    assert float(np.ptp(ratio)) == pytest.approx(0.0, abs=1e-12)
    assert float(np.exp(more).sum()) == pytest.approx(1.0)


def test_relays_diodes_and_chargers_have_rates() -> None:
    kinds = {
        kind_of_segment(relay_and_charger(), s)
        for s in segments_of(relay_and_charger()).values()
    }
    assert {"relay", "diode", "charger", "battery"} <= kinds <= set(RATES)
