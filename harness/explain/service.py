"""What each segment has to carry when the bike is in ordinary use."""

from dataclasses import dataclass
from functools import lru_cache

from harness.consumers import consumers
from harness.model import Harness
from harness.network import compile_network
from harness.segments import segments_of
from harness.solver import solve_network
from harness.words import seen_words

# A consumer that draws this share of a segment's current is what it is there for.
ITS_OWN = 0.95
LEAST_A = 1e-3


@dataclass(frozen=True, slots=True)
class Service:
    """The largest current that a segment carries in an ordinary rig, and whose it is.

    `consumer` is empty where several share it.
    """

    amps: float
    consumer: str = ""


@lru_cache(maxsize=8)
def service_of(h: Harness) -> dict[str, Service]:
    """Return what each segment carries on the healthy bike, idle ones left out."""
    found: dict[str, Service] = {}
    for consumer in consumers(h):
        net = compile_network(h, consumer.rig)
        amps = abs(solve_network(net).amps)
        own = float(amps[net.branch_of[consumer.segment]])
        for name, carried in zip(net.segments, amps.tolist(), strict=True):
            known = found.get(name)
            if carried > LEAST_A and (known is None or carried > known.amps):
                is_its = own >= ITS_OWN * carried
                found[name] = Service(carried, consumer.device if is_its else "")
    return {name: found[name] for name in segments_of(h) if name in found}


def service_words(h: Harness, service: Service) -> str:
    """Return a load in words: ``the 2.6 A of the horn``."""
    if service.consumer:
        return f"the {service.amps:.2g} A of the {seen_words(h, service.consumer)}"
    return f"the {service.amps:.2g} A of all that hangs on it"
