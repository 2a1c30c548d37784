"""Photos and a paper of the invented workshop."""

from diagnostics.demo import invented
from diagnostics.demo.pictures import letter, photo
from diagnostics.demo.shop_floor import ShopFloor
from shop.actions.attachments import attach
from shop.domain.attachments import Subject
from shop.models import WorkOrder

_LETTER = (
    "Nether Wend, in spring",
    "",
    "Please keep every part that comes off, also what looks past saving.",
    "The tank is not to be repainted: the scratch is from my brother's gate.",
    "",
    "Harriet Osei",
)


def fill_attachments(floor: ShopFloor) -> None:
    """Put photos to a bike and to the work order of a restoration."""
    bike_id = floor.bikes[invented.HUNTED]
    for number, (scene, caption) in enumerate(
        (
            ("tank", "Tank as it came in, dent at the right"),
            ("headlamp", "Lamp shell opened, before anything was pulled"),
            ("plug", "Middle cavity burnt brown"),
        )
    ):
        _photo(floor, Subject.BIKE, bike_id, scene, caption, days_ago=6 - number)
    attach(
        subject=Subject.BIKE,
        subject_id=bike_id,
        content=letter(_LETTER),
        caption="The owner's letter",
        acting_user=floor.front_desk,
        at=floor.calendar.at(6, 10, 5),
    )
    restored = WorkOrder.objects.of_bike(floor.bikes[invented.RESTORED]).still_open()
    order = restored.latest_first().first()
    if order is None:
        raise LookupError("the demo's restoration is not in the shop")
    _photo(
        floor,
        Subject.WORK_ORDER,
        order.pk,
        "dynamo",
        "Dynamo on the bench, brushes worn to the springs",
        days_ago=4,
    )


def _photo(
    floor: ShopFloor,
    subject: Subject,
    subject_id: int,
    scene: str,
    caption: str,
    *,
    days_ago: int,
) -> None:
    at = floor.calendar.at(days_ago, 10, 20)
    attach(
        subject=subject,
        subject_id=subject_id,
        content=photo(scene, taken_at=at),
        caption=caption,
        acting_user=floor.technician,
        at=at,
    )
