"""One digit that tells whether a number was copied right.

The check digit goes by H. Michael Damm's quasigroup of order ten ("Total
anti-symmetrische Quasigruppen", thesis, Marburg 2004): every single wrong digit and
every swap of two neighbours is found. Numbers on bags are copied by hand with dirty
fingers; that is what goes wrong.
"""

_TABLE = (
    "0317598642",
    "7092154863",
    "4206871359",
    "1750983426",
    "6123045978",
    "3674209581",
    "5869720134",
    "8945362017",
    "9438617205",
    "2581436790",
)


def check_digit(number: int) -> int:
    """Return the digit that goes behind a number.

    Raises
    ------
    ValueError
        The number is negative.

    Examples
    --------
    >>> check_digit(572)
    4
    """
    if number < 0:
        raise ValueError(f"no check digit for {number}")
    return _run_through(str(number))


def is_right(digits: str) -> bool:
    """Say whether a number with its check digit behind it was copied right.

    Examples
    --------
    >>> is_right("5724"), is_right("5274"), is_right("5734")
    (True, False, False)
    """
    return bool(digits) and _run_through(digits) == 0


def _run_through(digits: str) -> int:
    state = 0
    for digit in digits:
        state = int(_TABLE[state][int(digit)])
    return state
