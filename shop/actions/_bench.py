"""Who may be put on a job."""

from shop.domain.refusals import NotFound
from shop.domain.roles import PERMISSIONS, Act, Role
from shop.models import User


def check_bench_worker(technician_id: int | None) -> None:
    """Refuse somebody who does not work at the bench; nobody is fine.

    Raises
    ------
    NotFound
        No such person at work.
    """
    if technician_id is None:
        return
    roles = [role for role in Role if Act.BOOK_LABOUR in PERMISSIONS[role]]
    people = User.objects.with_role(*roles).at_work()
    if not people.filter(pk=technician_id).exists():
        raise NotFound(
            "technician-not-found",
            "There is nobody of that name who works at the bench.",
            "technician_id",
        )
