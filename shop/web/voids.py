"""Striking out a line: what was wrong stays in sight, with the reason."""

from shop.web.forms import ShopForm, text_field


class VoidForm(ShopForm):
    """Why a line is struck out."""

    reason = text_field(
        "Why is it struck out?",
        longest=200,
        help_text="The line stays on the ticket, struck through, with your reason.",
    )
