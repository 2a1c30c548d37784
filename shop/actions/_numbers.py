"""Running numbers from a counter row: no number is given out twice."""

from django.db.models import F

from shop.models import Counter


def next_number(name: str, *, first: int) -> int:
    """Return the next number; the row stays locked until the transaction ends.

    A number whose transaction fails is given out again, so there are no gaps.
    """
    Counter.objects.get_or_create(name=name, defaults={"last": first - 1})
    Counter.objects.filter(name=name).update(last=F("last") + 1)
    return Counter.objects.get(name=name).last
