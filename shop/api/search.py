"""Find anything, over the API."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from shop.api.describe import answers
from shop.api.views import ShopView, one
from shop.domain.roles import Act
from shop.selectors.search import MOST_HITS, SearchResults, search

_MOST = 20


class SearchQuery(serializers.Serializer[Any]):
    """What is looked for."""

    q = serializers.CharField(
        max_length=100,
        help_text="Words that all must be found, or a number, whole or in part.",
    )
    most = serializers.IntegerField(
        required=False,
        min_value=1,
        max_value=_MOST,
        default=MOST_HITS,
        help_text=f"How many of each kind; {MOST_HITS} unless said.",
    )


class SearchView(ShopView):
    @extend_schema(
        operation_id="search",
        summary="Find anything: hits by kind, exact numbers first",
        tags=["search"],
        parameters=[SearchQuery],
        responses=answers(SearchResults, of=(400, 401, 403)),
    )
    def get(self, request: Request) -> Response:
        asked = self.query(SearchQuery)
        viewer = self.viewer
        viewer.demand(Act.SEE_SHOP)
        return one(search(text=asked["q"], viewer=viewer, most=asked["most"]))
