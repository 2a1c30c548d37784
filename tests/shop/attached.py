"""What the tests of attachments share: putting one to something."""

from datetime import datetime

from shop.actions.attachments import attach
from shop.domain.attachments import Subject
from shop.models import Attachment, User
from tests.builders import MORNING, BikeFactory, UserFactory
from tests.pictures import jpeg


def attached(
    *,
    subject: Subject = Subject.BIKE,
    subject_id: int | None = None,
    content: bytes | None = None,
    caption: str = "",
    acting_user: User | None = None,
    at: datetime = MORNING,
) -> Attachment:
    """Put a photo to something; a bike unless said."""
    return attach(
        subject=subject,
        subject_id=BikeFactory().pk if subject_id is None else subject_id,
        content=jpeg() if content is None else content,
        caption=caption,
        acting_user=acting_user or UserFactory(),
        at=at,
    )
