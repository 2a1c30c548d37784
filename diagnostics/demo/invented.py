"""Who works in the invented workshop, who comes to it, and with which bikes."""

from dataclasses import dataclass
from decimal import Decimal

from shop.domain.bikes import BikeDetails
from shop.domain.customers import CustomerDetails
from shop.domain.parts import PartCondition, PartUnit
from shop.domain.people import PersonDetails
from shop.domain.roles import Role

OWNER = "maud"
FRONT_DESK = "ines"
TECHNICIAN = "tobias"
STOREKEEPER = "petra"
PASSWORD = "bench-lamp-47"  # noqa: S105 - printed by the demo, guards an invented shop

SHOP = {
    "name": "Fennick and Rowe",
    "address": "3 Tannery Yard\nOldmere",
    "phone": "0555 0141",
    "email": "counter@fennick-rowe.example",
    "tax_number": "OM 4471 208",
    "currency": "EUR",
    "hourly_rate": Decimal("62.00"),
    "invoice_notes": "Payment within 14 days. Parts taken off are kept for 30 days.",
}
STANDARD_RATE = ("Standard rate", Decimal(20))
REDUCED_RATE = ("Reduced rate", Decimal(5))

PEOPLE = (
    PersonDetails(
        username=FRONT_DESK,
        first_name="Ines",
        last_name="Calloway",
        email="ines@fennick-rowe.example",
        role=Role.FRONT_DESK,
    ),
    PersonDetails(
        username=TECHNICIAN,
        first_name="Tobias",
        last_name="Rowe",
        email="tobias@fennick-rowe.example",
        role=Role.TECHNICIAN,
        hourly_rate=Decimal("68.00"),
    ),
    PersonDetails(
        username=STOREKEEPER,
        first_name="Petra",
        last_name="Lund",
        email="petra@fennick-rowe.example",
        role=Role.STOREKEEPER,
    ),
)

HARRIET = "Harriet Osei"
LENNART = "Lennart Voss"
MARIGOLD = "Marigold Pemberton"

CUSTOMERS = (
    CustomerDetails(
        name=HARRIET,
        address="The Old Signal Box\nNether Wend",
        phone="0555 0162",
        email="harriet.osei@mail.example",
        notes="Rides to work on it. Ring after five.",
    ),
    CustomerDetails(
        name=LENNART,
        address="17 Quarry Lane\nOldmere",
        phone="0555 0119",
        email="l.voss@mail.example",
    ),
    CustomerDetails(
        name=MARIGOLD,
        address="Upper Fold Farm\nStonely Marsh",
        phone="0555 0187",
        notes="Her late father's bikes; wants to know everything that is done.",
    ),
)

WHIMBREL_FILE = "brackenhythe-whimbrel-500.toml"
DOTTEREL_FILE = "brackenhythe-dotterel-650.toml"
DRAWINGS = {
    WHIMBREL_FILE: ("Brackenhythe", "Whimbrel 500", "1973 to 1977"),
    DOTTEREL_FILE: ("Brackenhythe", "Dotterel 650", "1969 to 1974"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class InventedBike:
    """A bike, whose it is, the drawing that fits it, and what is wrong with it."""

    owner: str
    details: BikeDetails
    drawing: str = ""
    fault: tuple[str, ...] = ()


HUNTED = "whimbrel-74"
REPAIRED = "dotterel-72"
QUOTED = "dotterel-71"
BOOKED_IN = "whimbrel-76"
RESTORED = "sandpiper-58"

BIKES = {
    HUNTED: InventedBike(
        owner=HARRIET,
        drawing=WHIMBREL_FILE,
        fault=("wire:56-2", "open"),
        details=BikeDetails(
            maker="Brackenhythe",
            model="Whimbrel 500",
            year=1974,
            registration="OM 511 H",
            frame_number="W5-20417",
            engine_number="W5E 20398",
            colour="Moss green and cream",
            system_volts=12,
            earth="negative",
            notes="Engine is not the one it was born with.",
        ),
    ),
    REPAIRED: InventedBike(
        owner=LENNART,
        drawing=DOTTEREL_FILE,
        fault=("wire:31-2", "resistive"),
        details=BikeDetails(
            maker="Brackenhythe",
            model="Dotterel 650",
            year=1972,
            registration="OM 230 K",
            frame_number="D65/11806",
            engine_number="D65/11806",
            colour="Burgundy",
            system_volts=12,
            earth="positive",
        ),
    ),
    QUOTED: InventedBike(
        owner=HARRIET,
        drawing=DOTTEREL_FILE,
        fault=("wire:30-4", "resistive"),
        details=BikeDetails(
            maker="Brackenhythe",
            model="Dotterel 650",
            year=1971,
            frame_number="D65/09442",
            engine_number="stamped over, illegible",
            colour="Primer",
            system_volts=12,
            earth="positive",
            notes="Came in three crates; loom lies in the second.",
        ),
    ),
    BOOKED_IN: InventedBike(
        owner=MARIGOLD,
        drawing=WHIMBREL_FILE,
        fault=("wire:54-2", "open"),
        details=BikeDetails(
            maker="Brackenhythe",
            model="Whimbrel 500",
            year=1976,
            registration="SM 88 P",
            frame_number="W5-31120",
            engine_number="W5E 31120",
            colour="Blue",
            system_volts=12,
            earth="negative",
        ),
    ),
    RESTORED: InventedBike(
        owner=LENNART,
        details=BikeDetails(
            maker="Brackenhythe",
            model="Sandpiper 250",
            year=1958,
            frame_number="S2 0736",
            engine_number="S2 0801",
            colour="Black, gold lines",
            system_volts=6,
            earth="positive",
            notes="Six volts and to stay so.",
        ),
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class InventedPart:
    """A part of the parts list."""

    number: str
    description: str
    price: Decimal
    condition: PartCondition = PartCondition.NEW
    unit: PartUnit = PartUnit.EACH
    bin: str = ""
    tax: tuple[str, Decimal] = STANDARD_RATE


CABLE = "CAB-150"
BULLETS = "BUL-47"
SLEEVE = "SLV-4"
LAMP_TAIL = "LMP-215"
BATTERY_6V = "BAT-6-12"
FUSE = "FUS-15"
PLUG = "PLG-3"
BOOK = "BK-SAND"

PARTS = (
    InventedPart(
        number=CABLE,
        description="Cable 1.5 mm2, thin wall, all colours",
        price=Decimal("1.35"),
        unit=PartUnit.METRE,
        bin="E2-04",
    ),
    InventedPart(
        number=BULLETS,
        description="Bullet terminals 4.7 mm with sleeves, ten",
        price=Decimal("4.80"),
        unit=PartUnit.SET,
        bin="E1-11",
    ),
    InventedPart(
        number=SLEEVE,
        description="Heat-shrink sleeve 4 mm, lined with glue",
        price=Decimal("2.10"),
        unit=PartUnit.METRE,
        bin="E1-12",
    ),
    InventedPart(
        number=LAMP_TAIL,
        description="Tail and stop lamp 5/21 W, 12 V",
        price=Decimal("2.40"),
        bin="E3-02",
    ),
    InventedPart(
        number=FUSE,
        description="Glass fuse 15 A",
        price=Decimal("0.60"),
        bin="E3-07",
    ),
    InventedPart(
        number=PLUG,
        description="Three-way plug with terminals",
        price=Decimal("6.90"),
        condition=PartCondition.REPRODUCTION,
        bin="E1-03",
    ),
    InventedPart(
        number=BATTERY_6V,
        description="Battery 6 V 12 Ah in a hard-rubber case",
        price=Decimal("58.00"),
        condition=PartCondition.REPRODUCTION,
        bin="F1-01",
    ),
    InventedPart(
        number=BOOK,
        description="Owner's handbook, Sandpiper 250, reprint",
        price=Decimal("14.00"),
        condition=PartCondition.REPRODUCTION,
        bin="A1-01",
        tax=REDUCED_RATE,
    ),
)
