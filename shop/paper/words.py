"""What every report says to the customer: cautions, and where we defer to others."""

from shop.domain.bikes import EarthPolarity

ROADWORTHINESS = (
    "Whether this machine is roadworthy and may be used on the road is for the "
    "local authority and a licensed tester to decide. This report is not a "
    "roadworthiness certificate."
)
TAX = (
    "Tax is shown as the shop has entered it. What is due, and at which rate, is "
    "for the local tax authority to decide."
)
LAWS = (
    "Laws on estimates, approvals and invoices differ by place. Where local law asks "
    "for another form, that law counts and not this paper."
)
DEFERRALS = (ROADWORTHINESS, TAX, LAWS)

EARTHED_LEAD = (
    "This machine has {earthed} earth: the battery's {earthed} terminal is tied to "
    "the frame. Lift the earthed lead, the {earthed} one, first and put it back "
    "last. Reversed connections can destroy parts at once."
)
FUSES = (
    "Never fit a larger fuse, foil or wire in place of a fuse. Find out why it blew: "
    "the fuse guards the wire."
)
BATTERY_GAS = (
    "A battery on or just off charge gives off gas that can explode: ventilate, and "
    "keep flames, sparks and hot objects away. Its acid burns eyes and skin."
)


def cautions(earth: EarthPolarity) -> tuple[str, ...]:
    """Return what the owner of a bike has to know about its electrics."""
    return (EARTHED_LEAD.format(earthed=earth.value), FUSES, BATTERY_GAS)
