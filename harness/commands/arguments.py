"""Rigs and faults as they are written on a command line."""

from argparse import ArgumentTypeError

LISTS = ("unplugged", "removed")


def rig_argument(text: str) -> dict[str, object]:
    """Return the mapping of a rig such as ``key-switch=ON,unplugged=tail-plug``.

    ``unplugged`` and ``removed`` may come several times; a jumper is written
    ``jumpers=horn.2:frame.e`` and may come several times too.

    Raises
    ------
    ArgumentTypeError
        If it is not written so.

    Examples
    --------
    >>> rig_argument("key-switch=ON,unplugged=horn.1,unplugged=tail-plug")
    {'key-switch': 'ON', 'unplugged': ['horn.1', 'tail-plug']}
    >>> rig_argument("jumpers=horn.2:frame.e,engine=running")
    {'jumpers': [['horn.2', 'frame.e']], 'engine': 'running'}
    """
    rig: dict[str, object] = {}
    for part in filter(None, (part.strip() for part in text.split(","))):
        key, equals, value = part.partition("=")
        if not (key and equals and value):
            raise ArgumentTypeError(f'"{part}" is not switch=POSITION')
        if key in LISTS:
            _append(rig, key, value)
        elif key == "jumpers":
            _append(rig, key, _pair(value))
        elif key in rig:
            raise ArgumentTypeError(f'"{key}" has two positions')
        else:
            rig[key] = value
    return rig


def _append(rig: dict[str, object], key: str, value: object) -> None:
    known = rig.setdefault(key, [])
    if isinstance(known, list):
        known.append(value)


def _pair(value: str) -> list[str]:
    ends = value.split(":")
    if len(ends) != 2 or not all(ends):  # noqa: PLR2004 - two ends
        raise ArgumentTypeError(f'"{value}" is not two terminals: horn.2:frame.e')
    return ends


def fault_argument(text: str) -> tuple[str, ...]:
    """Return segment and mode, and ohms of a bad contact or what a segment meets.

    Raises
    ------
    ArgumentTypeError
        If it is not written ``segment=mode``, ``segment=resistive:ohms`` or
        ``segment=crossed:segment``.

    Examples
    --------
    >>> fault_argument("wire:7=open")
    ('wire:7', 'open')
    >>> fault_argument("wire:7=resistive:3")
    ('wire:7', 'resistive', '3')
    >>> fault_argument("wire:7=crossed:wire:8")
    ('wire:7', 'crossed', 'wire:8')
    """
    segment, equals, rest = text.rpartition("=")
    mode, colon, third = rest.partition(":")
    if not (segment and equals and mode):
        raise ArgumentTypeError(f'"{text}" is not segment=mode, such as wire:7=open')
    if not colon:
        return segment, mode
    if mode == "crossed":
        return segment, mode, third
    try:
        float(third)
    except ValueError as error:
        raise ArgumentTypeError(f'"{third}" is not a number of ohms') from error
    return segment, mode, third
