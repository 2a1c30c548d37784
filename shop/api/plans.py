"""The plan over the API: the promise of a work order, the board, a new plan."""

from drf_spectacular.utils import extend_schema
from rest_framework import status
from rest_framework.request import Request
from rest_framework.response import Response

from shop.actions.plans import request_plan
from shop.api.describe import READING, answers, problems
from shop.api.shapes import shape
from shop.api.views import ShopView, one
from shop.selectors.plan_board import PlanBoard, plan_board
from shop.selectors.plans import PlanPanel, plan_panel

TAG = ["plan"]


class PlanView(ShopView):
    @extend_schema(
        operation_id="plan_board",
        summary="The plan of the shop: weeks by technician, promises by the queue",
        tags=TAG,
        responses=answers(PlanBoard, of=(401, 403)),
    )
    def get(self, request: Request) -> Response:
        return one(plan_board(viewer=self.viewer, at=self.now))

    @extend_schema(
        operation_id="plan_request",
        summary="Have the plan worked out anew",
        description="A plan that waits already will do; 202 until it stands.",
        tags=TAG,
        request=None,
        responses={202: shape(PlanBoard), **problems((401, 403))},
    )
    def post(self, request: Request) -> Response:
        request_plan(acting_user=self.person, at=self.now)
        answer = one(plan_board(viewer=self.viewer, at=self.now))
        answer.status_code = status.HTTP_202_ACCEPTED
        return answer


class WorkOrderPlanView(ShopView):
    @extend_schema(
        operation_id="plan_of_work_order",
        summary="By when a work order is finished, with its odds and reasons",
        tags=TAG,
        responses=answers(PlanPanel, of=READING),
    )
    def get(self, request: Request, work_order_id: int) -> Response:
        return one(
            plan_panel(work_order_id=work_order_id, viewer=self.viewer, at=self.now)
        )
