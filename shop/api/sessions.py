"""Where one is signed in, over the API."""

from drf_spectacular.utils import extend_schema
from rest_framework import status
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.sessions import end_session
from shop.api.describe import answers, no_content
from shop.api.views import ShopView, one
from shop.selectors.sessions import Sessions, sessions_of

TAG = ["sign-in"]


class OwnSessionsView(ShopView):
    @extend_schema(
        operation_id="sessions_list",
        summary="Browsers in which one is signed in",
        tags=TAG,
        responses=answers(Sessions, of=(401,)),
    )
    def get(self, request: Request) -> Response:
        return one(_of(self, self.person.pk, request))


class PersonSessionsView(ShopView):
    @extend_schema(
        operation_id="person_sessions_list",
        summary="Browsers in which somebody is signed in; for the owner",
        tags=TAG,
        responses=answers(Sessions, of=(401, 403, 404)),
    )
    def get(self, request: Request, person_id: int) -> Response:
        return one(_of(self, person_id, request))


class SessionView(ShopView):
    @extend_schema(
        operation_id="sessions_end",
        summary="Sign out in one browser",
        tags=TAG,
        request=None,
        responses=no_content((401, 404)),
    )
    def delete(self, request: Request, session_id: int) -> Response:
        end_session(session_id=session_id, acting_user=self.person, at=self.now)
        return Response(status=status.HTTP_204_NO_CONTENT)


def _of(view: ShopView, person_id: int, request: Request) -> Sessions:
    return sessions_of(
        person_id=person_id,
        viewer=view.viewer,
        at=view.now,
        current_key=request.session.session_key or "",
    )
