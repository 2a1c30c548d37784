"""``solve``: volts and amperes of a bike in a rig, with or without faults."""

from argparse import ArgumentParser, Namespace

from harness.commands.arguments import fault_argument, rig_argument
from harness.commands.command import Answer, Command, WrongUse, table
from harness.errors import HarnessError, Problem, SingularNetwork
from harness.faults import fault_from
from harness.files import load
from harness.model import Harness
from harness.operating import OperatingPoint, solve
from harness.rig import Rig, rig_from
from harness.segments import Fault
from harness.words import fault_words, rig_words

SMALLEST_A = 5e-7


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("bike", metavar="BIKE.toml", help="a harness file")
    parser.add_argument(
        "--rig",
        type=rig_argument,
        default={},
        metavar="SWITCH=POSITION,...",
        help="also engine=running, battery-lead=off, unplugged=PLUG or DEVICE.PIN, "
        "removed=DEVICE, jumpers=A.1:B.2; what is not named is at rest",
    )
    parser.add_argument(
        "--fault",
        type=fault_argument,
        action="append",
        default=[],
        metavar="SEGMENT=MODE",
        help="put a fault in, such as wire:7=open or wire:7=resistive:3; repeatable",
    )


def _run(given: Namespace) -> Answer:
    h = load(given.bike)
    rig, faults = _asked(h, given)
    try:
        op = solve(h, rig, faults)
    except SingularNetwork as error:
        problems = tuple(_no_steady_state(reason) for reason in error.reasons)
        raise HarnessError(problems, name=given.bike) from error
    document: dict[str, object] = {
        "file": given.bike,
        "rig": rig.as_mapping(),
        "faults": [list(fault) for fault in given.fault],
        "blown": list(op.blown),
        "volts": op.volts,
        "amps": op.amps,
        "residual_a": op.residual_a,
    }
    return Answer(document, _words(h, rig, faults, op))


def _asked(h: Harness, given: Namespace) -> tuple[Rig, list[Fault]]:
    """Return the rig and the faults; what the bike has not is wrong use."""
    try:
        rig = rig_from(h, given.rig, where="--rig")
        return rig, [fault_from(h, fault) for fault in given.fault]
    except HarnessError as error:
        raise WrongUse("\n".join(error.lines())) from error


def _no_steady_state(reason: str) -> Problem:
    mend = "try another rig, or check the drawing"
    return Problem(f"there is no steady state: {reason}", "solve", mend)


def _words(h: Harness, rig: Rig, faults: list[Fault], op: OperatingPoint) -> str:
    blown = ", ".join(h.devices[fuse].title for fuse in op.blown)
    head = [f"{h.title}: {rig_words(h, rig)}"]
    head += [f"fault: {fault_words(h, fault)}" for fault in faults]
    head += [f"blown: {blown}"] if blown else []
    return "\n".join([*head, "", _parts(op), "", _wires(h, op), ""])


def _parts(op: OperatingPoint) -> str:
    found = [
        (segment, _amps(amps))
        for segment, amps in sorted(op.amps.items())
        if not segment.startswith("wire:")
    ]
    return table([("segment", "A"), *found], right=" r")


def _wires(h: Harness, op: OperatingPoint) -> str:
    rows = [("wire", "colour", "from", "V", "to", "V", "A")]
    for wire in h.wires.values():
        start, end = op.volts[wire.start], op.volts[wire.end]
        amps = op.amps.get(f"wire:{wire.id}")
        rows.append(
            (
                *(wire.id, wire.colour or "", wire.start, _volts(start)),
                *(wire.end, _volts(end), "off" if amps is None else _amps(amps)),
            )
        )
    return table(rows, right="   r rr")


def _volts(volts: float) -> str:
    return f"{volts + 0.0:.3f}".replace("-0.000", "0.000")


def _amps(amps: float) -> str:
    return f"{amps:.3f}" if abs(amps) >= SMALLEST_A else "0"


SOLVE = Command(
    name="solve",
    about="give volts and amperes in a rig, with faults put in if you like",
    arguments=_arguments,
    run=_run,
)
