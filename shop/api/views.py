"""What every view of the API shares: who asks, in what window, and the answer."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any, TypeVar

from django.utils import timezone
from rest_framework import serializers, status
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.utils.urls import remove_query_param, replace_query_param
from rest_framework.views import APIView
from typing_extensions import override

from shop.api.shapes import shape
from shop.domain.refusals import NotAllowed
from shop.domain.roles import Viewer
from shop.domain.second_steps import Demand
from shop.models import User
from shop.selectors.second_steps import second_step_demand
from shop.selectors.windows import DEFAULT_LIMIT, MOST_ROWS, Listing, Window

Row = TypeVar("Row")


class WindowQuery(serializers.Serializer[Any]):
    """Which rows of a list are wanted."""

    limit = serializers.IntegerField(
        required=False,
        min_value=1,
        help_text=f"How many rows; {MOST_ROWS} at most, {DEFAULT_LIMIT} unless said.",
    )
    offset = serializers.IntegerField(
        required=False, min_value=0, help_text="How many rows to leave out before."
    )


class ShopView(APIView):
    """A view that parses, calls one action or selector, and answers."""

    # What somebody may still do whose second step is due: leave.
    opens_without_second_step = False

    @override
    def initial(self, request: Request, *args: Any, **kwargs: Any) -> None:
        """Ask for the second step that the shop demands of some."""
        super().initial(request, *args, **kwargs)
        if self.opens_without_second_step or not isinstance(request.user, User):
            return
        demand = second_step_demand(viewer=self.viewer, on=timezone.localdate())
        if demand is Demand.NOW:
            raise NotAllowed(
                "second-step-due",
                "This account must have a second step first. Sign in with a browser "
                "and set it up; for programs use an account that handles no money.",
            )

    @property
    def person(self) -> User:
        """Who asks."""
        user = self.request.user
        if not isinstance(user, User):
            raise TypeError("the API is for people who have signed in")
        return user

    @property
    def viewer(self) -> Viewer:
        """Who asks, as selectors need it."""
        return self.person.as_viewer()

    @property
    def now(self) -> datetime:
        """When it is asked."""
        return timezone.now()

    def body(self, serializer: type[serializers.Serializer[Any]]) -> Mapping[str, Any]:
        """Return the checked body of a request that must be whole."""
        return _checked(serializer(data=self.request.data))

    def changes(
        self, serializer: type[serializers.Serializer[Any]]
    ) -> Mapping[str, Any]:
        """Return the checked body of a request that changes some fields."""
        return _checked(serializer(data=self.request.data, partial=True))

    def query(self, serializer: type[serializers.Serializer[Any]]) -> Mapping[str, Any]:
        """Return the checked query; an unknown parameter is left alone."""
        return _checked(serializer(data=self.request.query_params.dict()))

    def window(self) -> Window:
        """Return the window that the query asks for."""
        return Window(**self.query(WindowQuery))


def _checked(serializer: serializers.Serializer[Any]) -> Mapping[str, Any]:
    serializer.is_valid(raise_exception=True)
    checked: Mapping[str, Any] = serializer.validated_data
    return checked


def one(row: object) -> Response:
    """Answer with one dataclass."""
    return Response(shape(type(row))(row).data)


def created(row: object) -> Response:
    """Answer with one dataclass that is new."""
    return Response(shape(type(row))(row).data, status=status.HTTP_201_CREATED)


def page(request: Request, found: Listing[Row], kind: type[Row]) -> Response:
    """Answer with the rows in the window and where the others are."""
    here = request.build_absolute_uri()
    window = found.window
    after = window.offset + window.limit
    return Response(
        {
            "count": found.total,
            "next": (
                replace_query_param(here, "offset", str(after))
                if after < found.total
                else None
            ),
            "previous": _previous(here, window),
            "results": shape(kind)(found.rows, many=True).data,
        }
    )


def _previous(here: str, window: Window) -> str | None:
    if window.offset == 0:
        return None
    before = window.offset - window.limit
    if before <= 0:
        return remove_query_param(here, "offset")
    return replace_query_param(here, "offset", str(before))
