"""How often each kind of part goes bad in each way, and why we think so.

The rates are relative: how much more often one segment of a kind is found bad in that
way than another, on a loom some decades old. Every one is our own judgement: common
practice, no source. What a shop finds for itself outweighs them (`learning.py`).
"""

from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from harness.segments import Mode

SOURCE = "common practice, no source"

# What brings a fault about; age, wear and exposure act on these.
Cause = Literal["corroding", "breaking", "chafing", "burning", "wearing"]


@dataclass(frozen=True, slots=True)
class Rate:
    """One row: a kind of segment, a mode, how often, by what cause, and the reason."""

    kind: str
    mode: Mode
    rate: float
    cause: Cause
    reason: str


TABLE: tuple[Rate, ...] = (
    # ---- Consumers
    Rate("lamp", "dead", 10.0, "burning", "Bulbs burn out more than all else fails."),
    Rate("lamp", "shorted", 0.05, "burning", "A filament rarely falls on its support."),
    Rate("load", "dead", 2.0, "burning", "Windings and horn points burn open."),
    Rate("load", "shorted", 0.2, "chafing", "Old varnish fails between turns."),
    Rate("motor", "dead", 2.0, "wearing", "Brushes wear down or hang in their guides."),
    Rate("motor", "shorted", 0.4, "wearing", "Brush dust bridges the commutator."),
    Rate("box", "dead", 2.0, "burning", "What nobody can look into fails unseen."),
    Rate("box", "shorted", 0.3, "burning", "Semiconductors mostly fail shorted."),
    # ---- Fuses and sources
    Rate("fuse", "blown", 6.0, "burning", "Fuses tire, and blow on a passing short."),
    Rate("fuse", "resistive", 1.5, "corroding", "End caps and clips grow green."),
    Rate("battery", "weak", 8.0, "wearing", "A laid-up bike sulphates its battery."),
    Rate("battery", "dead", 1.0, "wearing", "A cell link breaks now and then."),
    Rate("charger", "dead", 2.0, "burning", "Rectifiers and windings run hot."),
    Rate("charger", "shorted", 0.5, "burning", "A hot rectifier also fails shorted."),
    Rate("diode", "open", 1.0, "burning", "An overload melts the bond inside."),
    Rate("diode", "shorted", 1.0, "burning", "Overload shorts as often as it opens."),
    # ---- Contacts
    Rate("switch", "open", 2.5, "wearing", "Contacts burn, springs and rivets loosen."),
    Rate("switch", "resistive", 2.0, "corroding", "Old grease and oxide under them."),
    Rate("switch", "stuck", 0.4, "wearing", "Levers gum up, plungers seize in mud."),
    Rate("plug", "open", 1.5, "corroding", "Terminals back out or rot off the wire."),
    Rate("plug", "resistive", 1.5, "corroding", "Tin and brass corrode in the wet."),
    Rate("plug", "crossed", 0.1, "wearing", "Somebody put a terminal in next door."),
    Rate("joint", "open", 0.4, "corroding", "Solder and crimps in the loom hold well."),
    Rate("joint", "resistive", 0.4, "corroding", "A splice under tape stays dry."),
    Rate("relay-coil", "open", 1.5, "breaking", "Hair-thin wire parts at its tags."),
    Rate("relay-coil", "shorted", 0.2, "chafing", "Turns short where varnish cracks."),
    Rate("relay-contact", "open", 1.5, "wearing", "Contacts pit and burn away."),
    Rate("relay-contact", "resistive", 1.0, "corroding", "Pitted faces carry less."),
    Rate("relay-contact", "stuck", 0.4, "wearing", "An inrush welds the faces."),
    # ---- Wires and metal
    Rate("wire", "open", 1.0, "breaking", "Strands part where the loom bends."),
    Rate("wire", "resistive", 0.5, "corroding", "Strands blacken up from the crimp."),
    Rate("wire", "earthed", 0.4, "chafing", "Insulation wears through on metal."),
    Rate("wire", "crossed", 0.15, "chafing", "Two must be bare in one spot to meet."),
    Rate("cable", "open", 0.5, "breaking", "Thick strands seldom part together."),
    Rate("cable", "resistive", 0.5, "corroding", "Acid creeps under the lug."),
    Rate("cable", "earthed", 0.2, "chafing", "Thick covering takes longer to chafe."),
    Rate("cable", "crossed", 0.05, "chafing", "Cables seldom lie bare side by side."),
    Rate("strap", "open", 1.5, "breaking", "Bare braid frays with the engine's shake."),
    Rate("strap", "resistive", 2.0, "corroding", "Its eyes sit on rust and paint."),
    Rate("mount", "open", 1.0, "corroding", "Paint or powder coat cuts it off."),
    Rate("mount", "resistive", 2.0, "corroding", "Rust between metal and metal."),
)

ROW_OF = MappingProxyType({(row.kind, row.mode): row for row in TABLE})
KINDS: tuple[str, ...] = tuple(dict.fromkeys(row.kind for row in TABLE))
RATES: dict[str, dict[Mode, float]] = {
    kind: {row.mode: row.rate for row in TABLE if row.kind == kind} for kind in KINDS
}
