"""The itemised report of one work order: facts in, the printed words out."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from shop.domain.bikes import EARTH_LABELS
from shop.domain.labour import hours_and_minutes
from shop.domain.lifecycle import STATE_LABELS
from shop.domain.paper import PaperKind
from shop.domain.pricing import Billing
from shop.paper import amounts, words
from shop.paper.blocks import (
    Block,
    Bullets,
    Caution,
    Fact,
    Facts,
    Heading,
    Paragraph,
    Quote,
    Section,
    Sums,
    table,
)
from shop.paper.report import Addressee, Letterhead, Report
from shop.selectors.labour import LabourRow
from shop.selectors.outside_work import OutsideRow
from shop.selectors.part_lines import PartLineRow
from shop.selectors.reports import BikeFacts, OrderFacts, ReportFacts
from shop.selectors.shop_settings import ShopFacts

LANGUAGE = "en"


@dataclass(frozen=True, slots=True)
class Printer:
    """How this shop prints amounts and days, and on what."""

    locale: str
    page_size: str
    currency: str
    time_zone: str

    def money(self, amount: Decimal) -> str:
        """Print an amount."""
        return amounts.money(amount, currency=self.currency, locale=self.locale)

    def day(self, moment: datetime) -> str:
        """Print a day, where the shop is."""
        return amounts.day(moment, locale=self.locale, time_zone=self.time_zone)

    def short_day(self, day: date) -> str:
        """Print a day for a table."""
        return amounts.short_day(day, locale=self.locale)

    def quantity(self, amount: Decimal) -> str:
        """Print a quantity."""
        return amounts.quantity(amount, locale=self.locale)

    def rate(self, percent: Decimal) -> str:
        """Print a tax rate."""
        return amounts.tax_rate(percent, locale=self.locale)


def work_order_report(
    facts: ReportFacts,
    others: tuple[Section, ...],
    *,
    locale: str,
    page_size: str,
) -> Report:
    """Return the report of one work order, with the sections of others in it."""
    printer = Printer(locale, page_size, facts.shop.currency, facts.shop.time_zone)
    sections = (
        _machine(facts, printer),
        _work(facts, printer),
        _parts(facts, printer),
        *_outside(facts, printer),
        _sums(facts, printer),
        _limits(facts.bike, others),
        *others,
    )
    order = facts.order
    return Report(
        kind=PaperKind.WORK_ORDER_REPORT,
        work_order_id=facts.work_order_id,
        number=order.label,
        title=f"Report of work {order.label}",
        state=STATE_LABELS[order.state],
        language=LANGUAGE,
        locale=locale,
        time_zone=facts.shop.time_zone,
        page_size=page_size,
        shop=Letterhead(facts.shop.name, _letterhead(facts.shop)),
        customer=Addressee(
            facts.customer.name,
            (
                *_lines(facts.customer.address),
                *_named("Tax number", facts.customer.tax_number),
            ),
        ),
        sections=tuple(sorted(sections, key=lambda s: (s.order, s.key))),
    )


def _lines(text: str) -> tuple[str, ...]:
    return tuple(line.strip() for line in text.splitlines() if line.strip())


def _named(name: str, value: str) -> tuple[str, ...]:
    return (f"{name} {value}",) if value.strip() else ()


def _letterhead(shop: ShopFacts) -> tuple[str, ...]:
    return (
        *_lines(shop.address),
        *_named("Telephone", shop.phone),
        *_lines(shop.email),
        *_named("Tax number", shop.tax_number),
    )


def _machine(facts: ReportFacts, printer: Printer) -> Section:
    bike, order = facts.bike, facts.order
    booked_in = printer.day(order.booked_in_at)
    blocks: list[Block] = [
        Facts("The machine", _bike_rows(bike)),
        Heading("The complaint"),
        Quote(order.complaint, f"The customer's words, booked in on {booked_in}"),
    ]
    if order.intake_notes.strip():
        blocks += [Heading("Noted when it came in"), Paragraph(order.intake_notes)]
    return Section("machine", "Bike and complaint", 10, tuple(blocks))


def _bike_rows(bike: BikeFacts) -> tuple[Fact, ...]:
    volts = f"{bike.system_volts} V, {EARTH_LABELS[bike.earth].lower()}"
    rows = (
        Fact("Maker and model", f"{bike.maker} {bike.model}"),
        Fact("Year", str(bike.year) if bike.year else "not known"),
        Fact("Frame number", bike.frame_number or "not recorded"),
        Fact("Engine number", bike.engine_number or "not recorded"),
        Fact("Registration", bike.registration),
        Fact("Colour", bike.colour),
        Fact("Electrics", volts),
    )
    return tuple(row for row in rows if row.value.strip())


def _work(facts: ReportFacts, printer: Printer) -> Section:
    blocks: list[Block] = []
    if facts.order.work_done.strip():
        blocks.append(Paragraph(facts.order.work_done))
    if facts.labour:
        blocks.append(
            table(
                "Labour, without tax",
                ("Day", "Work", "By", "Time", "Per hour", "Tax", "Net"),
                (_labour_row(line, printer) for line in facts.labour),
                numeric=(3, 4, 5, 6),
                foot=(
                    "Labour",
                    "",
                    "",
                    hours_and_minutes(facts.totals.labour_minutes),
                    "",
                    "",
                    printer.money(facts.totals.labour_net),
                ),
            )
        )
    else:
        blocks.append(Paragraph("No labour has been booked."))
    return Section("work", "What was done", 50, tuple(blocks))


def _labour_row(line: LabourRow, printer: Printer) -> tuple[str, ...]:
    return (
        printer.short_day(line.done_on),
        line.description,
        line.technician_name,
        line.time_text,
        printer.money(line.hourly_rate),
        *_charge(line, printer),
    )


def _charge(line: LabourRow, printer: Printer) -> tuple[str, str]:
    if line.billing == Billing.BILLABLE.value:
        return printer.rate(line.tax_percent), printer.money(line.net)
    return "", f"no charge ({line.billing_label.lower()})"


def _parts(facts: ReportFacts, printer: Printer) -> Section:
    if not facts.parts:
        nothing = Paragraph("No parts have been fitted.")
        return Section("parts", "Parts", 60, (nothing,))
    fitted = table(
        "Parts, without tax",
        ("Number", "Part", "Condition", "Quantity", "Price", "Tax", "Net"),
        (_part_row(line, printer) for line in facts.parts),
        numeric=(3, 4, 5, 6),
        foot=("Parts", "", "", "", "", "", printer.money(facts.totals.parts_net)),
    )
    return Section("parts", "Parts", 60, (fitted,))


def _part_row(line: PartLineRow, printer: Printer) -> tuple[str, ...]:
    return (
        line.number,
        line.description,
        line.condition_label,
        f"{printer.quantity(line.quantity)} {line.unit_label}",
        printer.money(line.price),
        printer.rate(line.tax_percent),
        printer.money(line.net),
    )


def _outside(facts: ReportFacts, printer: Printer) -> tuple[Section, ...]:
    if not facts.outside_work:
        return ()
    sent = table(
        "Outside work, without tax",
        ("Number", "Work", "Trade", "State", "Tax", "Net"),
        (_outside_row(line, printer) for line in facts.outside_work),
        numeric=(4, 5),
        foot=(
            "Outside work",
            "",
            "",
            "",
            "",
            printer.money(facts.totals.outside_net),
        ),
    )
    return (Section("outside", "Work done outside the shop", 65, (sent,)),)


def _outside_row(line: OutsideRow, printer: Printer) -> tuple[str, ...]:
    price = "" if line.is_final else ", as quoted"
    return (
        line.label,
        line.description,
        line.trade_label,
        f"{line.state_label}{price}",
        printer.rate(line.tax_percent),
        printer.money(line.net),
    )


def _sums(facts: ReportFacts, printer: Printer) -> Section:
    totals = facts.totals
    rows = [Fact("Net", printer.money(totals.net))]
    for rate in totals.rates:
        base = printer.money(rate.net)
        name = f"{rate.label} {printer.rate(rate.percent)} on {base}"
        rows.append(Fact(name, printer.money(rate.tax)))
    rows.append(Fact("Tax", printer.money(totals.tax)))
    total = Fact("Total, tax included", printer.money(totals.gross))
    blocks: list[Block] = [Sums("Tax by rate, and the total", tuple(rows), total)]
    agreed = _agreed(facts.order, printer)
    if agreed:
        blocks.insert(0, Facts("What was agreed, tax included", agreed))
    return Section("sums", "Sums", 70, tuple(blocks))


def _agreed(order: OrderFacts, printer: Printer) -> tuple[Fact, ...]:
    rows = []
    if order.estimate_amount is not None:
        rows.append(Fact("Estimate", printer.money(order.estimate_amount)))
    if order.approved_amount is not None:
        parts = [printer.money(order.approved_amount)]
        if order.approved_by_name:
            parts.append(f"by {order.approved_by_name}")
        if order.approved_at:
            parts.append(f"on {printer.day(order.approved_at)}")
        if order.approved_how:
            parts.append(f"({order.approved_how})")
        rows.append(Fact("Approved", " ".join(parts)))
    return tuple(rows)


def _limits(bike: BikeFacts, others: tuple[Section, ...]) -> Section:
    said = {
        _opening(block.text)
        for section in others
        for block in section.blocks
        if isinstance(block, Caution)
    }
    cautions = tuple(
        Caution(text)
        for text in words.cautions(bike.earth)
        if _opening(text) not in said
    )
    return Section(
        "limits",
        "Cautions and limits",
        90,
        (*cautions, Heading("What this paper is not"), Bullets(words.DEFERRALS)),
    )


def _opening(text: str) -> str:
    """Return how a caution begins: the same caution is printed once."""
    return " ".join(text.split()[:5]).casefold()
