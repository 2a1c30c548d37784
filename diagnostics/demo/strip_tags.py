"""The restored bike in pieces: what is tagged, what is with whom, what is scrapped."""

from datetime import timedelta
from decimal import Decimal

from diagnostics.demo import invented
from diagnostics.demo.shop_floor import ShopFloor
from shop.actions.outside_work import (
    Dispatch,
    book_back,
    edit_outside_work,
    plan_outside_work,
    send_outside_work,
)
from shop.actions.strip_tags import add_strip_tag, move_strip_tags
from shop.actions.suppliers import add_supplier
from shop.domain.outside_work import CheckResult, OutsideDetails, TagCheck
from shop.domain.strip_tags import (
    NO_CONSENT,
    Consent,
    TagCondition,
    TagDetails,
    TagEvent,
    TagFate,
)
from shop.domain.suppliers import SupplierDetails, Trade
from shop.models import User, WorkOrder

PLATER = "Hollin Bright Plating"
PAINTER = "Sedge and Daughter, coach painters"

SUPPLIERS = (
    SupplierDetails(
        name=PLATER,
        contact="Ruben",
        phone="0555 0233",
        trades=(Trade.PLATING,),
        lead_days=21,
        markup_percent=Decimal(15),
        notes="Wants everything stripped and wired up. Closed on Fridays.",
    ),
    SupplierDetails(
        name=PAINTER,
        contact="Adela Sedge",
        phone="0555 0246",
        email="yard@sedge.example",
        trades=(Trade.PAINT, Trade.BLASTING),
        lead_days=35,
        markup_percent=Decimal(10),
    ),
)

FRONT_RIM = "Front rim"
REAR_RIM = "Rear rim"
BRACKETS = "Tank strap and badge"
TANK = "Petrol tank"
OLD_CABLES = "Control cables"

TAGS = (
    (FRONT_RIM, "Front", 1, "corroded", "recondition", "Rack 1"),
    (REAR_RIM, "Rear", 1, "corroded", "recondition", "Rack 1"),
    (BRACKETS, "On top of the tank", 3, "worn", "recondition", "B2"),
    (TANK, "Frame top tube", 1, "damaged", "recondition", "Rack 2"),
    ("Left mudguard stays", "Rear, left", 4, "good", "refit", "B2"),
    ("Primary case screws", "Engine, left", 11, "worn", "replace", "B3"),
    ("Headlamp shell", "Front", 1, "good", "refit", "B4"),
    ("Saddle", "Frame", 1, "worn", "recondition", "Rack 2"),
    ("Right side panel", "Right", 1, "good", "refit", "Rack 2"),
    ("Silencer with a hole in it", "Right", 1, "damaged", "return", "Rack 3"),
    ("Centre stand and spring", "Frame, below", 2, "worn", "refit", "Rack 3"),
    (OLD_CABLES, "Handlebar", 4, "worn", "scrap", "Bin"),
)


def fill_strip_tags(floor: ShopFloor) -> None:
    """Tag what came off the restored bike, and send some of it out."""
    order = WorkOrder.objects.of_bike(floor.bikes[invented.RESTORED]).still_open().get()
    tags = _tagged(floor, order.pk)
    suppliers = {
        details.name: add_supplier(
            details=details, acting_user=floor.owner, at=floor.calendar.at(100, 9)
        ).pk
        for details in SUPPLIERS
    }
    keeper = floor.people[invented.STOREKEEPER]
    _rims_away(floor, order.pk, tags, suppliers[PLATER], keeper)
    _badge_back(floor, order.pk, tags, suppliers[PLATER], keeper)
    plan_outside_work(
        work_order_id=order.pk,
        details=OutsideDetails(
            supplier_id=suppliers[PAINTER],
            trade=Trade.PAINT,
            description="Tank stripped, mended at the seam, painted and lined",
            quote_amount=Decimal("310.00"),
            markup_percent=Decimal(10),
        ),
        tag_ids=[tags[TANK]],
        acting_user=keeper,
        at=floor.calendar.at(12, 11),
    )
    move_strip_tags(
        tag_ids=[tags[OLD_CABLES]],
        event=TagEvent.SCRAP,
        acting_user=floor.technician,
        at=floor.calendar.at(50, 9),
    )


def _tagged(floor: ShopFloor, order_id: int) -> dict[str, int]:
    at = floor.calendar.at(60, 10)
    tags = {}
    for minutes, (name, place, pieces, condition, fate, shelf) in enumerate(TAGS):
        tags[name] = add_strip_tag(
            work_order_id=order_id,
            details=TagDetails(
                name=name,
                place=place,
                pieces=pieces,
                condition=TagCondition(condition),
                shelf=shelf,
            ),
            fate=fate,
            consent=Consent(by_name=invented.LENNART, how="by telephone")
            if fate == TagFate.SCRAP.value
            else NO_CONSENT,
            acting_user=floor.technician,
            at=at + timedelta(minutes=3 * minutes),
        ).pk
    return tags


def _rims_away(
    floor: ShopFloor, order_id: int, tags: dict[str, int], plater: int, keeper: User
) -> None:
    work = plan_outside_work(
        work_order_id=order_id,
        details=OutsideDetails(
            supplier_id=plater,
            trade=Trade.PLATING,
            description="Both rims stripped, polished and chromed",
            promised_on=floor.calendar.day(5),
            quote_amount=Decimal("240.00"),
            markup_percent=Decimal(15),
        ),
        tag_ids=[tags[FRONT_RIM], tags[REAR_RIM]],
        acting_user=keeper,
        at=floor.calendar.at(56, 9),
    )
    send_outside_work(
        outside_work_id=work.pk,
        dispatch=Dispatch(sent_on=floor.calendar.day(55)),
        acting_user=keeper,
        at=floor.calendar.at(55, 11),
    )


def _badge_back(
    floor: ShopFloor, order_id: int, tags: dict[str, int], plater: int, keeper: User
) -> None:
    work = plan_outside_work(
        work_order_id=order_id,
        details=OutsideDetails(
            supplier_id=plater,
            trade=Trade.PLATING,
            description="Tank strap and badge nickel plated",
            promised_on=floor.calendar.day(30),
            quote_amount=Decimal("45.00"),
            markup_percent=Decimal(15),
        ),
        tag_ids=[tags[BRACKETS]],
        acting_user=keeper,
        at=floor.calendar.at(54, 9),
    )
    send_outside_work(
        outside_work_id=work.pk, acting_user=keeper, at=floor.calendar.at(54, 15)
    )
    book_back(
        outside_work_id=work.pk,
        checks=[TagCheck(tag_id=tags[BRACKETS], result=CheckResult.GOOD, shelf="B2")],
        acting_user=floor.technician,
        at=floor.calendar.at(31, 16),
    )
    edit_outside_work(
        outside_work_id=work.pk,
        changes={"cost_amount": Decimal("48.60")},
        acting_user=keeper,
        at=floor.calendar.at(29, 10),
    )
