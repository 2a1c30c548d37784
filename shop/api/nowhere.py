"""Addresses under /api/ that lead nowhere are answered as problems too."""

from drf_spectacular.utils import extend_schema
from rest_framework.permissions import AllowAny
from rest_framework.request import Request
from rest_framework.views import APIView
from typing_extensions import override

from shop.domain.refusals import NotFound


@extend_schema(exclude=True)
class NowhereView(APIView):
    authentication_classes = ()
    permission_classes = (AllowAny,)

    @override
    def initial(self, request: Request, *args: object, **kwargs: object) -> None:
        """Answer whatever is asked, by whatever verb.

        Raises
        ------
        NotFound
            Always.
        """
        raise NotFound("no-such-address", "The API has no such address.")
