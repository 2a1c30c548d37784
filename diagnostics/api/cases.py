"""Fault hunts for programs: opened, read, ended."""

from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from diagnostics.actions.cases import give_up_case, open_case, prove_case, reopen_case
from diagnostics.api.answers import created, many, one, problem
from diagnostics.api.bodies import CaseBody, ReasonBody
from diagnostics.api.shapes import shape
from diagnostics.selectors.advice import AdvisedTest
from diagnostics.selectors.cases import (
    CaseLine,
    CasePage,
    case_lines,
    case_page,
    cases_of_work_order,
)
from diagnostics.selectors.retests import RetestView
from shop.api.views import ShopView, WindowQuery


class Cases(ShopView):
    """All fault hunts."""

    @extend_schema(
        operation_id="cases_list",
        parameters=[
            WindowQuery,
            OpenApiParameter("work_order_id", int, description="Of one work order."),
        ],
        responses={200: shape(CaseLine)(many=True), **problem(400, 403)},
    )
    def get(self, request: Request) -> Response:
        """List the fault hunts, the newest first, a window of them at a time."""
        wanted = request.query_params.get("work_order_id", "")
        if wanted.isdecimal():
            rows = cases_of_work_order(work_order_id=int(wanted), viewer=self.viewer)
        else:
            rows = case_lines(viewer=self.viewer, window=self.window())
        return many(rows, CaseLine)

    @extend_schema(
        operation_id="cases_open",
        request=CaseBody,
        responses={201: shape(CasePage), **problem(400, 403, 404, 409)},
    )
    def post(self, request: Request) -> Response:
        """Open a fault hunt on a work order, against one drawing."""
        data = self.body(CaseBody)
        case = open_case(
            work_order_id=data["work_order_id"],
            harness_file_id=data["harness_file_id"],
            title=data["title"],
            acting_user=self.person,
            at=self.now,
        )
        return created(case_page(case_id=case.pk, viewer=self.viewer))


class Case(ShopView):
    """One fault hunt."""

    @extend_schema(
        operation_id="cases_read",
        responses={200: shape(CasePage), **problem(403, 404)},
    )
    def get(self, request: Request, case_id: int) -> Response:
        """Read a case: belief, advice, verdicts, findings, repairs, proof."""
        return one(case_page(case_id=case_id, viewer=self.viewer))


class CaseAdvice(ShopView):
    """What to test next."""

    @extend_schema(
        operation_id="cases_advice",
        responses={200: shape(AdvisedTest)(many=True), **problem(403, 404)},
    )
    def get(self, request: Request, case_id: int) -> Response:
        """List the tests worth taking next, the best first."""
        page = case_page(case_id=case_id, viewer=self.viewer)
        return many(page.belief.tests, AdvisedTest)


class CaseProof(ShopView):
    """The proof of the repair."""

    @extend_schema(
        operation_id="cases_proof",
        responses={200: shape(RetestView)(many=True), **problem(403, 404)},
    )
    def get(self, request: Request, case_id: int) -> Response:
        """List the failed tests, and how they read since the repair."""
        page = case_page(case_id=case_id, viewer=self.viewer)
        return many(page.retests, RetestView)

    @extend_schema(
        operation_id="cases_prove",
        request=None,
        responses={200: shape(CasePage), **problem(403, 404, 409)},
    )
    def post(self, request: Request, case_id: int) -> Response:
        """Close the case as proven; every failed test must read well again."""
        prove_case(case_id=case_id, acting_user=self.person, at=self.now)
        return one(case_page(case_id=case_id, viewer=self.viewer))


class CaseGivingUp(ShopView):
    """The end of a hunt without a repair."""

    @extend_schema(
        operation_id="cases_give_up",
        request=ReasonBody,
        responses={200: shape(CasePage), **problem(400, 403, 404, 409)},
    )
    def post(self, request: Request, case_id: int) -> Response:
        """Give the hunt up, with the reason."""
        reason = self.body(ReasonBody)["reason"]
        give_up_case(
            case_id=case_id, reason=reason, acting_user=self.person, at=self.now
        )
        return one(case_page(case_id=case_id, viewer=self.viewer))


class CaseReopening(ShopView):
    """A hunt taken up again."""

    @extend_schema(
        operation_id="cases_reopen",
        request=ReasonBody,
        responses={200: shape(CasePage), **problem(400, 403, 404, 409)},
    )
    def post(self, request: Request, case_id: int) -> Response:
        """Reopen the hunt, with the reason."""
        reason = self.body(ReasonBody)["reason"]
        reopen_case(
            case_id=case_id, reason=reason, acting_user=self.person, at=self.now
        )
        return one(case_page(case_id=case_id, viewer=self.viewer))
