"""A harness in a rig as a network."""

from functools import lru_cache

from harness.branches import device_branches
from harness.circuit import Branch, Circuit, Network
from harness.kinds import Body
from harness.model import Harness
from harness.rig import Rig

JUMPER_OHM = 0.01


@lru_cache(maxsize=512)
def compile_network(h: Harness, rig: Rig) -> Network:
    """Turn a harness in a rig into arrays.

    A wire end that is pulled off a pin becomes a node of its own, named
    ``pin/wire-id``. Lifting the battery lead pulls the wires off the earthed post.

    Raises
    ------
    CircuitError
        When a resistance is not positive.
    """
    circuit = Circuit(reference=h.earthed_pin)
    removed = set(rig.removed)
    pulled = set(rig.unplugged) - set(h.devices)
    if rig.battery_lead == "off":
        pulled.add(h.earthed_pin)
    for device in h.devices.values():
        if isinstance(device.spec, Body):
            metal = f"{device.id}.*"
            circuit.aliases.update({f"{device.id}.{p}": metal for p in device.pins})
        elif device.id not in removed:
            for branch in device_branches(device, rig):
                circuit.add(branch)
    for wire in h.wires.values():
        start, end = (
            f"{terminal}/{wire.id}" if terminal in pulled else terminal
            for terminal in (wire.start, wire.end)
        )
        circuit.add(Branch(f"wire:{wire.id}", start, end, wire.resistance_ohm))
    for number, (one, two) in enumerate(rig.jumpers, start=1):
        circuit.add(Branch(f"jumper:{number}", one, two, JUMPER_OHM))
    circuit.extra_nodes = list(h.terminals)
    circuit.absent = frozenset(removed)
    return circuit.network()
