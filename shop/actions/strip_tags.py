"""Parts and bags taken off a bike: tagged, decided on, moved, found again."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import datetime

from django.db import transaction

from shop.actions._details import details_of, put
from shop.actions._numbers import next_number
from shop.actions._rows import locked, open_work_order
from shop.actions._tags import TagMove, consent_columns, move_tag
from shop.actions.attachments import attach
from shop.actions.history import Happening, record
from shop.domain.attachments import SentFile, Subject, read_in
from shop.domain.entries import altered, clean_member, differences
from shop.domain.refusals import IllegalMove, Refusal
from shop.domain.roles import Act
from shop.domain.strip_tags import (
    FIRST_NUMBER,
    NO_CONSENT,
    REASON,
    TAG_EVENT_LABELS,
    TAG_FATE_LABELS,
    WITH_OUTSIDE_WORK,
    Consent,
    TagDetails,
    TagEvent,
    TagFate,
    TagState,
    check_consent,
)
from shop.models import StripTag, User

MOST_AT_ONCE = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class Handling:
    """What goes with a move: a new shelf, why, and who agreed."""

    shelf: str = ""
    reason: str = ""
    consent: Consent = NO_CONSENT

    def checked(self) -> "Handling":
        """Return it tidied, or refuse it."""
        return replace(
            self,
            shelf=self.shelf.strip()[:40],
            reason=REASON.clean(self.reason),
            consent=self.consent.checked(),
        )


NOTHING_MORE = Handling()


@transaction.atomic
def add_strip_tag(
    *,
    work_order_id: int,
    details: TagDetails,
    acting_user: User,
    at: datetime,
    fate: str = TagFate.REFIT,
    consent: Consent = NO_CONSENT,
    photo: SentFile | None = None,
) -> StripTag:
    """Tag a part or bag that has come off the bike of an open work order.

    Raises
    ------
    Refusal
        Words are missing, the order has ended, or nobody agreed to scrap it.
    """
    acting_user.demand(Act.KEEP_TAGS)
    tidy = details.checked()
    chosen = _fate(fate)
    agreed = _agreed(chosen, consent)
    order = open_work_order(work_order_id)
    tag = StripTag.objects.create(
        number=next_number("strip_tag", first=FIRST_NUMBER),
        work_order=order,
        fate=chosen.value,
        state=TagState.ON_SHELF.value,
        state_since=at,
        taken_off_by=acting_user,
        taken_off_at=at,
        **asdict(tidy),
        **consent_columns(agreed, at if agreed.by_name else None),
    )
    where = f", {tag.place}" if tag.place else ""
    record(
        _happening(tag, "added", f"{tag} taken off{where}"),
        acting_user=acting_user,
        at=at,
    )
    if photo is not None:
        attach(
            subject=Subject.STRIP_TAG,
            subject_id=tag.pk,
            content=read_in(photo),
            caption="",
            acting_user=acting_user,
            at=at,
        )
    return tag


@transaction.atomic
def edit_strip_tag(
    *, tag_id: int, changes: Mapping[str, object], acting_user: User, at: datetime
) -> StripTag:
    """Correct what stands on a tag, its shelf too; `changes` is by field."""
    acting_user.demand(Act.KEEP_TAGS)
    tag = _locked(tag_id)
    old = details_of(tag, TagDetails)
    new = altered(old, changes).checked()
    found = differences(old, new)
    if not found:
        return tag
    put(tag, new, found)
    moved = f" moved to {tag.shelf}" if set(found) == {"shelf"} else " corrected"
    record(
        _happening(tag, "edited", f"{tag}{moved}", changes=found),
        acting_user=acting_user,
        at=at,
    )
    return tag


@transaction.atomic
def decide_fate(
    *,
    tag_id: int,
    fate: str,
    acting_user: User,
    at: datetime,
    consent: Consent = NO_CONSENT,
) -> StripTag:
    """Decide what becomes of it; scrap needs the name of who agreed.

    Raises
    ------
    IllegalMove
        Nobody agreed, or it is gone already.
    """
    acting_user.demand(Act.KEEP_TAGS)
    chosen = _fate(fate)
    agreed = _agreed(chosen, consent)
    tag = _locked(tag_id)
    if tag.state == TagState.SCRAPPED.value:
        raise IllegalMove("tag-gone", f"{tag} is scrapped; nothing is left to decide.")
    old = TagFate(tag.fate)
    changes = {"fate": (TAG_FATE_LABELS[old], TAG_FATE_LABELS[chosen])}
    if agreed.by_name:
        changes["consent_by_name"] = (tag.consent_by_name, agreed.by_name)
    StripTag.objects.filter(pk=tag.pk).update(
        fate=chosen.value,
        **consent_columns(agreed, at if agreed.by_name else None),
    )
    record(
        _happening(
            tag,
            "fate_decided",
            f"{tag}: {TAG_FATE_LABELS[chosen].lower()}",
            changes=changes,
        ),
        acting_user=acting_user,
        at=at,
    )
    tag.refresh_from_db()
    return tag


@transaction.atomic
def move_strip_tags(
    *,
    tag_ids: Sequence[int],
    event: TagEvent,
    acting_user: User,
    at: datetime,
    handling: Handling = NOTHING_MORE,
) -> tuple[StripTag, ...]:
    """Move one or many tags by one event: all of them, or none.

    Raises
    ------
    IllegalMove
        One of them cannot go that way; the message names it.
    """
    acting_user.demand(Act.KEEP_TAGS)
    given = handling.checked()
    if event in WITH_OUTSIDE_WORK:
        raise IllegalMove(
            "outside-work-moves-it",
            f"“{TAG_EVENT_LABELS[event]}” is done on the outside work that it "
            "goes out for.",
        )
    wanted = sorted(set(tag_ids))
    if not 1 <= len(wanted) <= MOST_AT_ONCE:
        raise Refusal(
            "tags-not-chosen", f"Choose 1 to {MOST_AT_ONCE} tags to move.", "tag_ids"
        )
    move = TagMove(
        event=event, reason=given.reason, shelf=given.shelf, consent=given.consent
    )
    tags = tuple(_locked(tag_id) for tag_id in wanted)
    for tag in tags:
        _move(tag, move, acting_user, at, many=len(tags) > 1)
    return tags


def _move(
    tag: StripTag, move: TagMove, acting_user: User, at: datetime, *, many: bool
) -> None:
    try:
        move_tag(tag, move, acting_user=acting_user, at=at)
    except IllegalMove as refusal:
        if not many:
            raise
        raise IllegalMove(
            refusal.code, f"{tag}: {refusal.message} No tag was moved.", refusal.field
        ) from refusal
    tag.refresh_from_db()


def _locked(tag_id: int) -> StripTag:
    tag = locked(StripTag.objects.all(), pk=tag_id, field="tag_id", name="strip tag")
    open_work_order(tag.work_order_id)
    return tag


def _fate(fate: str) -> TagFate:
    return clean_member(TagFate, fate, field="fate", name="The fate")


def _agreed(fate: TagFate, consent: Consent) -> Consent:
    if fate is not TagFate.SCRAP:
        return NO_CONSENT
    tidy = consent.checked()
    check_consent(tidy)
    return tidy


def _happening(
    tag: StripTag,
    done: str,
    summary: str,
    *,
    changes: Mapping[str, tuple[str, str]] | None = None,
) -> Happening:
    return Happening(
        verb=f"strip_tag.{done}",
        kind="strip_tag",
        subject_id=tag.pk,
        work_order_id=tag.work_order_id,
        summary=summary,
        changes=changes,
    )
