"""What confirmed repairs do to the rates: the mean of a Dirichlet posterior."""

from collections import defaultdict
from random import Random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats

from harness.faults import single_faults
from harness.priors.learning import Confirmed, learned
from harness.priors.posterior import dirichlet_mean, learned_rates
from harness.priors.segment_kinds import kind_of_segment, place_of_segment
from harness.priors.weights import default_rates
from harness.segments import Mode, segments_of
from tests.harness.priors.looms import every_kind

H = every_kind()
Rates = dict[tuple[str, Mode], float]
Ways = dict[tuple[str, Mode], float]


def rates_before() -> Rates:
    """Return the default rates of what can happen on the loom."""
    can_happen = {(f.segment, f.mode) for f in single_faults(H)}
    return {key: r for key, r in default_rates(H).items() if key in can_happen}


BEFORE = rates_before()


def shares(rates: Rates) -> Ways:
    """Return the share of each kind and mode in a loom's faults."""
    sums: Ways = defaultdict(float)
    for (segment, mode), rate in rates.items():
        sums[kind_of_segment(H, segments_of(H)[segment]), mode] += rate
    return {way: n / sum(rates.values()) for way, n in sums.items()}


def share_at(rates: Rates, kind: str, mode: Mode, place: str) -> float:
    """Return the part of a kind and mode that sits in a place."""
    whole = here = 0.0
    for (segment, m), rate in rates.items():
        found = segments_of(H)[segment]
        if (kind_of_segment(H, found), m) == (kind, mode):
            whole += rate
            here += rate if place_of_segment(H, found) == place else 0.0
    return here / whole


WAYS = sorted(shares(BEFORE))
repairs = st.builds(
    lambda way, count, place: Confirmed(way[0], way[1], count, place),
    st.sampled_from(WAYS),
    st.integers(1, 40).map(float),
    st.sampled_from(["", "tail", "bars", "tray", "a place of another bike"]),
)
histories = st.lists(repairs, max_size=12)


def test_the_mean_is_that_of_the_multinomial_model() -> None:
    # Gelman et al., Bayesian Data Analysis, multinomial model, from memory: with
    # prior parameters alpha and counts y the mean of share j is
    # (alpha_j + y_j) / (sum of alpha + sum of y). By hand: alpha = 10 x (.5, .3, .2),
    # y = (1, 0, 4): (6, 3, 6) / 15.
    mean = dirichlet_mean(np.array([0.5, 0.3, 0.2]), np.array([1.0, 0.0, 4.0]), 10.0)
    assert mean.tolist() == pytest.approx([6 / 15, 3 / 15, 6 / 15])


def test_the_mean_is_what_prior_times_likelihood_integrates_to() -> None:
    # scipy's Dirichlet density and multinomial probabilities, integrated over the
    # triangle of shares; nothing of the formula is used.
    share, counts, worth = np.array([0.5, 0.3, 0.2]), np.array([2, 1, 4]), 12.0
    prior = stats.dirichlet(worth * share)
    seen = stats.multinomial(int(counts.sum()), share)

    def weight(y: float, x: float) -> float:
        p = np.array([x, y, 1.0 - x - y])
        return float(prior.pdf(p) * stats.multinomial.pmf(counts, seen.n, p))

    def over_triangle(power: int) -> float:
        whole, _ = integrate.dblquad(
            lambda y, x: weight(y, x) * x**power, 0, 1, 0, lambda x: 1 - x
        )
        return float(whole)

    mean = dirichlet_mean(share, counts.astype(float), worth)
    assert mean[0] == pytest.approx(over_triangle(1) / over_triangle(0), rel=1e-6)


def test_with_no_history_the_rates_are_the_defaults() -> None:
    assert learned_rates(H, BEFORE, learned([])) == BEFORE


@given(history=histories)
def test_the_rates_stay_positive_and_their_sum_the_same(
    history: list[Confirmed],
) -> None:
    after = learned_rates(H, BEFORE, learned(history))
    assert after.keys() == BEFORE.keys()
    assert min(after.values()) > 0
    assert sum(after.values()) == pytest.approx(sum(BEFORE.values()))


@given(history=histories)
def test_each_share_is_between_the_default_and_the_observed_one(
    history: list[Confirmed],
) -> None:
    seen: Ways = defaultdict(float)
    for row in history:
        seen[row.kind, row.mode] += row.count
    after, before = shares(learned_rates(H, BEFORE, learned(history))), shares(BEFORE)
    for way, share in after.items():
        part = seen[way] / sum(seen.values()) if history else before[way]
        low, high = sorted((before[way], part))
        assert low - 1e-12 <= share <= high + 1e-12


@given(history=histories.filter(bool))
def test_a_huge_history_says_it_all(history: list[Confirmed]) -> None:
    many = [Confirmed(r.kind, r.mode, r.count * 1e7, r.place) for r in history]
    seen: Ways = defaultdict(float)
    for row in many:
        seen[row.kind, row.mode] += row.count
    after = shares(learned_rates(H, BEFORE, learned(many)))
    for way, share in after.items():
        assert share == pytest.approx(seen[way] / sum(seen.values()), abs=1e-5)


@given(history=histories, chance=st.randoms())
def test_the_order_of_history_does_not_matter(
    history: list[Confirmed], chance: Random
) -> None:
    other = list(history)
    chance.shuffle(other)
    assert learned_rates(H, BEFORE, learned(other)) == learned_rates(
        H, BEFORE, learned(history)
    )


def test_a_history_as_expected_changes_no_rate() -> None:
    # 1,000 repairs in just the shares that the table expects of this loom. A count by
    # segment instead of by loom would make the many wires rarer.
    before = shares(BEFORE)
    history = [Confirmed(*way, 1000 * share) for way, share in before.items()]
    after = learned_rates(H, BEFORE, learned(history))
    for key, rate in BEFORE.items():
        assert after[key] == pytest.approx(rate)


def test_forty_repairs_count_as_much_as_the_table() -> None:
    history = learned([Confirmed("plug", "resistive", 40.0)])
    before = shares(BEFORE)["plug", "resistive"]
    after = shares(learned_rates(H, BEFORE, history))["plug", "resistive"]
    assert after == pytest.approx((before + 1.0) / 2)


def test_a_place_where_repairs_were_made_draws_its_kind() -> None:
    # Lamps at the tail and on the bars, one each, of equal rate before: 40 x 1/2 and
    # 60 at the tail, of 100 in all.
    before = share_at(BEFORE, "lamp", "dead", "tail")
    assert before == pytest.approx(0.5)
    after = learned_rates(H, BEFORE, learned([Confirmed("lamp", "dead", 60.0, "tail")]))
    assert share_at(after, "lamp", "dead", "tail") == pytest.approx(80 / 100)
    # Repairs that name no place, or one of another bike, say nothing of the places.
    for place in ("", "sidecar"):
        told = learned([Confirmed("lamp", "dead", 60.0, place)])
        spread = learned_rates(H, BEFORE, told)
        assert share_at(spread, "lamp", "dead", "tail") == pytest.approx(0.5)


def test_wires_between_places_keep_their_part() -> None:
    told = learned([Confirmed("wire", "open", 500.0, "tail")])
    after = learned_rates(H, BEFORE, told)
    whole = shares(after)["wire", "open"] / shares(BEFORE)["wire", "open"]
    between = after["wire:04", "open"] / BEFORE["wire:04", "open"]
    assert place_of_segment(H, segments_of(H)["wire:04"]) is None
    scale = sum(after.values()) / sum(BEFORE.values())
    assert between == pytest.approx(whole * scale)


def test_what_this_loom_does_not_have_is_left_out_of_the_count() -> None:
    boxless = {k: r for k, r in BEFORE.items() if not k[0].startswith("device:unit")}
    told = learned([Confirmed("box", "dead", 300.0)])
    assert learned_rates(H, boxless, told) == boxless
