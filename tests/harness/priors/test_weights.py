"""The prior of a hunt: no fault, every single fault, and what a further one adds."""

from functools import cache
from itertools import combinations
from math import exp

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness.errors import HarnessError
from harness.faults import single_faults
from harness.model import Harness
from harness.priors.circumstances import Circumstances, Exposure
from harness.priors.learning import Confirmed, learned
from harness.priors.rates import RATES
from harness.priors.weights import (
    FURTHER_FAULTS,
    FURTHER_FAULTS_AT_MOST,
    NOTHING_WRONG,
    Priors,
    beside_log_odds,
    default_rates,
    log_priors,
    priors_from,
)
from harness.segments import Fault, Mode, segments_of
from tests.harness.library import LOOMS, loom
from tests.harness.priors.looms import every_kind
from tests.harness.small_looms import horn_and_tail


@cache
def bike() -> Harness:
    return horn_and_tail()


def prior(h: Harness, segment: str, mode: Mode, priors: Priors | None = None) -> float:
    """Return the probability that a segment is bad in a mode, in whatever variant."""
    p = np.exp(log_priors(h, priors))[1:]
    rows = [(f.segment, f.mode) == (segment, mode) for f in single_faults(h)]
    assert any(rows)
    return float(p[rows].sum())


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


def test_a_stop_lamp_is_dead_before_a_horn_is() -> None:
    stop = prior(bike(), "device:rear-lamp.stop", "dead")
    horn = prior(bike(), "device:horn", "dead")
    ratio = RATES["lamp"]["dead"] / RATES["load"]["dead"]
    assert stop == pytest.approx(ratio * horn)


def test_the_variants_of_a_mode_share_its_rate() -> None:
    for mode in ("open", "resistive", "earthed"):
        ratio = RATES["wire"][mode] / RATES["wire"]["open"]
        whole = prior(bike(), "wire:5", "open")
        assert prior(bike(), "wire:5", mode) == pytest.approx(ratio * whole)


def test_some_open_contacts_are_so_only_while_the_loom_is_moved() -> None:
    p = dict(zip(single_faults(bike()), log_priors(bike())[1:].tolist(), strict=True))
    for_good = exp(p[Fault("wire:5", "open")])
    when_moved = exp(p[Fault("wire:5", "open", moved=True)])
    assert when_moved / (for_good + when_moved) == pytest.approx(0.25)


def test_rates_of_one_s_own_replace_the_defaults_of_those_faults_only() -> None:
    more = log_priors(bike(), {("wire:5", "earthed"): 100.0})
    plain = log_priors(bike())
    row = 1 + single_faults(bike()).index(Fault("wire:5", "earthed"))
    assert float(np.exp(more[row])) > 20 * float(np.exp(plain[row]))
    others = np.delete(np.arange(1, len(plain)), row - 1)
    ratio = np.exp(more[others] - plain[others])
    assert float(np.ptp(ratio)) == pytest.approx(0.0, abs=1e-12)
    assert float(np.exp(more).sum()) == pytest.approx(1.0)


def test_knowing_nothing_gives_the_defaults() -> None:
    assert np.array_equal(log_priors(bike(), Priors.of(bike())), log_priors(bike()))
    assert Priors.of(bike()).rates == default_rates(bike())
    assert Priors.of(bike(), learned=learned([])) == priors_from(bike())


def test_a_pair_is_as_likely_as_two_faults_that_know_nothing_of_each_other() -> None:
    h = bike()
    faults, p = single_faults(h), np.exp(log_priors(h))
    factor = exp(beside_log_odds(h))
    # The odds of each fault beside another: its share of the further ones expected.
    odds = FURTHER_FAULTS * p[1:] / p[1:].sum()
    for i, j in ((0, 5), (3, 40), (7, 8)):
        assert p[1 + i] * p[1 + j] * factor == pytest.approx(p[1 + i] * odds[j])
    # Beside any one fault, what the others add up to, less those of its own segment.
    for i in (0, 11):
        beside = sum(
            p[1 + j] * factor
            for j in range(len(faults))
            if faults[j].segment != faults[i].segment
        )
        own = sum(
            p[1 + j]
            for j in range(len(faults))
            if faults[j].segment == faults[i].segment
        )
        assert beside == pytest.approx(FURTHER_FAULTS * (1 - own / p[1:].sum()))


def test_about_one_loom_in_eighteen_comes_in_with_two_faults() -> None:
    h = every_kind()
    faults, p = single_faults(h), np.exp(log_priors(h))[1:]
    segment = [fault.segment for fault in faults]
    pairs = sum(
        p[i] * p[j]
        for i, j in combinations(range(len(faults)), 2)
        if segment[i] != segment[j]
    ) * exp(beside_log_odds(h))
    assert 1 / 19 < pairs / (pairs + p.sum()) < 1 / 17


@pytest.mark.parametrize(
    ("told", "times"),
    [
        (Circumstances(), 1.0),
        (Circumstances(age_years=80, wear="heavy"), 2.25),
        (Circumstances(age_years=2, wear="little"), 0.4),
    ],
)
def test_age_and_wear_bring_further_faults(told: Circumstances, times: float) -> None:
    priors = Priors.of(bike(), circumstances=told)
    assert priors.further_faults == pytest.approx(FURTHER_FAULTS * times)
    more = beside_log_odds(bike(), priors) - beside_log_odds(bike())
    assert exp(more) == pytest.approx(times)


def test_a_wet_tail_makes_its_plug_the_suspect() -> None:
    told = Circumstances(exposure={"tail": "wet"})
    wet = Priors.of(bike(), circumstances=told)
    ratio = wet.rates["plug:tail-plug.1", "resistive"] / RATES["plug"]["resistive"]
    assert ratio == pytest.approx(3.0)
    assert wet.rates["switch:key-switch.ON.30-15", "resistive"] == pytest.approx(
        RATES["switch"]["resistive"]
    )
    assert prior(bike(), "plug:tail-plug.1", "resistive", wet) > prior(
        bike(), "plug:tail-plug.1", "resistive"
    )


def test_a_shop_that_mends_plugs_looks_at_plugs() -> None:
    told = learned([Confirmed("plug", "resistive", 30.0)])
    taught = Priors.of(bike(), learned=told)
    assert taught.learned_repairs == 30.0
    assert prior(bike(), "plug:tail-plug.2", "resistive", taught) > 3 * prior(
        bike(), "plug:tail-plug.2", "resistive"
    )


def test_age_scales_what_was_learned() -> None:
    told = learned([Confirmed("wire", "earthed", 25.0)])
    old = Circumstances(age_years=80)
    taught = Priors.of(bike(), learned=told).rates
    both = Priors.of(bike(), learned=told, circumstances=old).rates
    for key in (("wire:5", "earthed"), ("wire:7", "earthed")):
        assert both[key] == pytest.approx(old.times("chafing") * taught[key])


def test_one_s_own_rates_have_the_last_word() -> None:
    priors = Priors.of(
        bike(),
        circumstances=Circumstances(age_years=80, wear="heavy"),
        learned=learned([Confirmed("lamp", "dead", 99.0)]),
        rates={("device:rear-lamp.stop", "dead"): 7.5},
    )
    assert priors.rates["device:rear-lamp.stop", "dead"] == 7.5


exposures = st.sampled_from(["dry", "usual", "wet", "hot", "flexing"])


@given(
    years=st.floats(0, 150),
    exposure=st.dictionaries(st.sampled_from(["tray", "tail"]), exposures),
    count=st.floats(0, 1e6),
)
def test_whatever_is_known_the_prior_sums_to_one(
    years: float, exposure: dict[str, Exposure], count: float
) -> None:
    priors = Priors.of(
        bike(),
        circumstances=Circumstances(age_years=years, exposure=exposure),
        learned=learned([Confirmed("fuse", "blown", count, "tray")]),
    )
    p = np.exp(log_priors(bike(), priors))
    assert float(p.sum()) == pytest.approx(1.0)
    assert float(p[0]) == pytest.approx(NOTHING_WRONG)
    assert 0 < priors.further_faults <= FURTHER_FAULTS_AT_MOST


@pytest.mark.parametrize(
    "rates",
    [
        {("wire:99", "open"): 1.0},
        {("wire:5", "dead"): 1.0},
        {("wire:5", "open"): 0.0},
        {("wire:5", "open"): float("nan")},
    ],
)
def test_rates_that_are_none_or_of_nothing_there_are_refused(
    rates: dict[tuple[str, Mode], float],
) -> None:
    with pytest.raises(HarnessError, match="priors of wire"):
        log_priors(bike(), rates)


def test_priors_of_another_bike_are_refused() -> None:
    with pytest.raises(HarnessError, match="no such segment"):
        log_priors(bike(), Priors.of(every_kind()))
    with pytest.raises(HarnessError, match=r"make them with Priors\.of"):
        log_priors(bike(), Priors({("wire:5", "open"): 1.0}))


def test_an_exposed_place_that_the_bike_does_not_have_is_refused() -> None:
    told = Circumstances(exposure={"sidecar": "wet"})
    with pytest.raises(HarnessError, match="no such place"):
        Priors.of(bike(), circumstances=told)


@pytest.mark.parametrize(
    ("nothing_wrong", "further_faults"),
    [(0.0, 0.1), (1.0, 0.1), (0.02, 0.0), (0.02, 0.9)],
)
def test_chances_out_of_range_are_refused(
    nothing_wrong: float, further_faults: float
) -> None:
    rates = default_rates(bike())
    with pytest.raises(HarnessError, match="give more than 0"):
        Priors(rates, nothing_wrong=nothing_wrong, further_faults=further_faults)


def test_rates_that_were_given_cannot_be_changed_afterwards() -> None:
    rates = default_rates(bike()).copy()
    priors = Priors(rates)
    rates["wire:5", "open"] = 99.0
    assert priors.rates["wire:5", "open"] == RATES["wire"]["open"]
