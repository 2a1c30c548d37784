"""Where no pair explains the findings, three faults at once are looked for."""

import numpy as np

from harness.predictions import predictions_for
from harness.priors import beside_log_odds, log_priors
from harness.triples import triples
from harness.weighing import believe
from tests.harness.test_weighing import OF_THREE, THREE, bike, first, taken

# Explained worse than this share of how well anything does, a reading was misread.
MISREAD_RATIO = 1 / 20


def test_three_open_wires_are_found_where_no_pair_explains_what_was_read() -> None:
    belief = believe(bike(), taken(THREE, *OF_THREE))
    assert first(belief) == [("wire:10", "wire:5", "wire:7")]
    likely = belief.log_likelihood
    best = likely.max(axis=1)
    assert (likely[:, belief.row_of[THREE]] >= best + np.log(MISREAD_RATIO)).all()
    assert any(len(faults) == 3 for faults in belief.sets)


def test_the_three_are_among_those_grown_from_the_best_pairs() -> None:
    belief = believe(bike(), taken(THREE, *OF_THREE))
    own = log_priors(bike()) + beside_log_odds(bike())
    assert THREE in triples(belief, predictions_for(bike()).faults, own)


def test_one_that_may_not_be_there_is_in_no_set_that_is_grown() -> None:
    belief = believe(bike(), taken(THREE, *OF_THREE))
    faults = predictions_for(bike()).faults
    own = log_priors(bike()) + beside_log_odds(bike())
    own[[faults.index(fault) for fault in THREE]] = -np.inf
    assert THREE not in triples(belief, faults, own)


def test_no_threes_are_weighed_where_one_fault_explains_everything() -> None:
    belief = believe(bike(), taken(THREE[:1], *OF_THREE))
    assert all(len(faults) < 3 for faults in belief.sets)
