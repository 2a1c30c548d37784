"""Signing in for programs: a token for a name and a password."""

from typing import Any, cast

from allauth.mfa.utils import is_mfa_enabled
from django.contrib.auth import authenticate
from django.http import HttpRequest
from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework import serializers, status
from rest_framework.permissions import AllowAny
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.tokens import give_back_token, issue_token
from shop.api.describe import answers, no_content, problems
from shop.api.views import ShopView, one
from shop.domain.refusals import NotAllowed, Refusal
from shop.models import User
from shop.selectors.people import Me, me

TAG = ["sign-in"]


class SignInBody(serializers.Serializer[Any]):
    """Name and password, as in the browser."""

    username = serializers.CharField(max_length=150)
    password = serializers.CharField(max_length=1000, trim_whitespace=False)


class TokenSerializer(serializers.Serializer[Any]):
    """What to send as `Authorization: Token ...` from now on."""

    token = serializers.CharField()


class TokenView(ShopView):
    authentication_classes = ()
    permission_classes = (AllowAny,)

    @extend_schema(
        operation_id="token_get",
        summary="Sign in: get a token",
        tags=TAG,
        auth=[],
        request=SignInBody,
        examples=[
            OpenApiExample(
                "Name and password",
                {"username": "mo.hale", "password": "three brass washers"},
                request_only=True,
            )
        ],
        responses={200: TokenSerializer, **problems((400, 403))},
    )
    def post(self, request: Request) -> Response:
        body = self.body(SignInBody)
        # The lock-out is answered here as a problem; given the wrapper, the
        # middleware that would answer with a page does not see it.
        user = authenticate(cast("HttpRequest", request), **body)
        if not isinstance(user, User):
            raise _not_in(request)
        if is_mfa_enabled(user):
            raise NotAllowed(
                "second-factor-needed",
                "This account asks for a second factor, which a token cannot give. "
                "Use another account for programs.",
            )
        return Response({"token": issue_token(acting_user=user, at=self.now)})


class OwnTokenView(ShopView):
    opens_without_second_step = True

    @extend_schema(
        operation_id="token_give_back",
        summary="Sign out: make the token worthless",
        tags=TAG,
        request=None,
        responses=no_content((401,)),
    )
    def delete(self, request: Request) -> Response:
        give_back_token(acting_user=self.person, at=self.now)
        return Response(status=status.HTTP_204_NO_CONTENT)


class MeView(ShopView):
    @extend_schema(
        operation_id="me_read",
        summary="Who is signed in, and what the role includes",
        tags=TAG,
        responses=answers(Me, of=(401,)),
    )
    def get(self, request: Request) -> Response:
        return one(me(viewer=self.viewer, username=self.person.username))


def _not_in(request: Request) -> Refusal:
    if getattr(request, "axes_locked_out", False):
        return NotAllowed(
            "locked-out", "Too many wrong attempts; wait a quarter of an hour."
        )
    return Refusal("sign-in-failed", "Name and password do not belong together.")
