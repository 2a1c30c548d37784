"""Findings for programs: complaint, tests, retests, voids."""

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from diagnostics.actions.findings import (
    put_back_finding,
    record_complaint,
    record_finding,
    record_retest,
)
from diagnostics.actions.voids import void_finding
from diagnostics.api.answers import KEY_PARAMETER, Taken, key_of, many, one, problem
from diagnostics.api.answers import taken as taken_answer
from diagnostics.api.bodies import (
    ComplaintBody,
    FindingBody,
    ReasonBody,
    RetestBody,
    eye_entries,
    finding_entry,
)
from diagnostics.api.shapes import shape
from diagnostics.lifecycle import Origin
from diagnostics.selectors.cases import CasePage, case_page
from diagnostics.selectors.complaints import ComplaintGroup, complaint_groups
from diagnostics.selectors.findings import FindingView
from shop.api.views import ShopView


class CaseComplaint(ShopView):
    """The complaint of a case."""

    @extend_schema(
        operation_id="complaint_form",
        responses={200: shape(ComplaintGroup)(many=True), **problem(403, 404)},
    )
    def get(self, request: Request, case_id: int) -> Response:
        """List the consumers to try, grouped by the rig that each is tried in."""
        groups = complaint_groups(case_id=case_id, viewer=self.viewer)
        return many(groups, ComplaintGroup)

    @extend_schema(
        operation_id="complaint_take",
        parameters=[KEY_PARAMETER],
        request=ComplaintBody,
        responses={201: shape(Taken), **problem(400, 403, 404, 409)},
    )
    def post(self, request: Request, case_id: int) -> Response:
        """Take the complaint down, all in one go or not at all."""
        findings = record_complaint(
            case_id=case_id,
            eyes=eye_entries(self.body(ComplaintBody)),
            key=key_of(request),
            acting_user=self.person,
            at=self.now,
        )
        return taken_answer(findings, viewer=self.viewer)


class CaseFindings(ShopView):
    """The findings of a case."""

    @extend_schema(
        operation_id="findings_list",
        responses={200: shape(FindingView)(many=True), **problem(403, 404)},
    )
    def get(self, request: Request, case_id: int) -> Response:
        """List the findings in the order they were taken, voided ones as well."""
        page = case_page(case_id=case_id, viewer=self.viewer)
        return many(page.findings, FindingView)

    @extend_schema(
        operation_id="findings_take",
        parameters=[KEY_PARAMETER],
        request=FindingBody,
        responses={201: shape(Taken), **problem(400, 403, 404, 409)},
    )
    def post(self, request: Request, case_id: int) -> Response:
        """Take one finding, and answer with what follows from it."""
        data = self.body(FindingBody)
        finding = record_finding(
            case_id=case_id,
            entry=finding_entry(data),
            origin=Origin(data["origin"]),
            key=key_of(request),
            acting_user=self.person,
            at=self.now,
        )
        return taken_answer([finding], viewer=self.viewer)


class FindingVoiding(ShopView):
    """A finding withdrawn."""

    @extend_schema(
        operation_id="findings_void",
        request=ReasonBody,
        responses={200: shape(CasePage), **problem(400, 403, 404, 409)},
    )
    def post(self, request: Request, finding_id: int) -> Response:
        """Withdraw a finding, with the reason; it stays on record."""
        void = void_finding(
            finding_id=finding_id,
            reason=self.body(ReasonBody)["reason"],
            acting_user=self.person,
            at=self.now,
        )
        return one(case_page(case_id=void.finding.case_id, viewer=self.viewer))


class FindingPuttingBack(ShopView):
    """A voided finding entered once more."""

    @extend_schema(
        operation_id="findings_put_back",
        parameters=[KEY_PARAMETER],
        request=None,
        responses={201: shape(Taken), **problem(400, 403, 404, 409)},
    )
    def post(self, request: Request, finding_id: int) -> Response:
        """Enter a voided finding once more."""
        finding = put_back_finding(
            finding_id=finding_id,
            key=key_of(request),
            acting_user=self.person,
            at=self.now,
        )
        return taken_answer([finding], viewer=self.viewer)


class FindingRetest(ShopView):
    """A failed finding taken again after the repair."""

    @extend_schema(
        operation_id="findings_retest",
        parameters=[KEY_PARAMETER],
        request=RetestBody,
        responses={201: shape(Taken), **problem(400, 403, 404, 409)},
    )
    def post(self, request: Request, finding_id: int) -> Response:
        """Take a failed finding again, in the same rig and places."""
        data = self.body(RetestBody)
        finding = record_retest(
            finding_id=finding_id,
            reads=data["reads"],
            note=data["note"],
            key=key_of(request),
            acting_user=self.person,
            at=self.now,
        )
        return taken_answer([finding], viewer=self.viewer)
