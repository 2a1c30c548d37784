"""How likely each fault is before anything is known.

Rates by kind and mode stand in one table with their reasons (`rates.py`). A bike's age,
wear and places scale them (`circumstances.py`), a shop's confirmed repairs correct them
(`learned`), and one's own rates replace them; `Priors.of` puts it all together.

>>> sorted(RATES["fuse"])
['blown', 'resistive']
"""

from harness.priors.circumstances import EXPOSURES, NEUTRAL, WEARS, Circumstances
from harness.priors.learning import (
    CONCENTRATION_REPAIRS,
    NOTHING_LEARNED,
    Confirmed,
    Learned,
    confirmed_on,
    learned,
)
from harness.priors.posterior import dirichlet_mean
from harness.priors.rates import RATES, SOURCE, TABLE
from harness.priors.segment_kinds import kind_of_segment, places_of_segment
from harness.priors.shares import MOVED_SHARE, variant_shares
from harness.priors.weights import (
    FURTHER_FAULTS,
    NOTHING_WRONG,
    Priors,
    Rates,
    beside_log_odds,
    default_rates,
    log_priors,
    priors_from,
)

__all__ = [
    "CONCENTRATION_REPAIRS",
    "EXPOSURES",
    "FURTHER_FAULTS",
    "MOVED_SHARE",
    "NEUTRAL",
    "NOTHING_LEARNED",
    "NOTHING_WRONG",
    "RATES",
    "SOURCE",
    "TABLE",
    "WEARS",
    "Circumstances",
    "Confirmed",
    "Learned",
    "Priors",
    "Rates",
    "beside_log_odds",
    "confirmed_on",
    "default_rates",
    "dirichlet_mean",
    "kind_of_segment",
    "learned",
    "log_priors",
    "places_of_segment",
    "priors_from",
    "variant_shares",
]
