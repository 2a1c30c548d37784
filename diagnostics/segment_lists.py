"""Many segments in a few words, for paper: kinds, ids and numbers in runs."""

from collections.abc import Iterable, Mapping, Sequence

# Kinds of segment in the order of a list, with what each part of it is called.
_KINDS: Mapping[str, str] = {
    "wire": "wires",
    "plug": "plug cavities",
    "joint": "splices",
    "switch": "switch contacts",
    "relay": "relays",
    "fuse": "fuses",
    "diode": "diodes",
    "battery": "battery",
    "charger": "charger",
    "device": "consumers and instruments",
}


def in_short(segments: Iterable[str]) -> str:
    """Return segments grouped by kind and owner: ``wires 15-1, 15-2; splices ...``.

    Examples
    --------
    >>> in_short(["wire:7", "wire:8", "plug:tail-plug.1", "plug:tail-plug.2"])
    'Wires 7, 8. Plug cavities: tail plug 1, 2.'
    """
    by_kind: dict[str, dict[str, list[str]]] = {}
    for segment in segments:
        kind, _, rest = segment.partition(":")
        owner, _, part = rest.partition(".")
        by_kind.setdefault(kind, {}).setdefault(owner, []).append(part)
    sentences = [_sentence(kind, by_kind[kind]) for kind in _KINDS if by_kind.get(kind)]
    return " ".join(sentences)


def _sentence(kind: str, owners: Mapping[str, Sequence[str]]) -> str:
    word = _KINDS[kind].capitalize()
    if kind == "wire":
        return f"{word} {', '.join(sorted(owners, key=natural))}."
    if kind in {"battery", "charger"}:
        return f"{word}."
    named = [
        _owner(owner, sorted(filter(None, parts), key=natural))
        for owner, parts in sorted(owners.items())
    ]
    return f"{word}: {'; '.join(named)}."


def _owner(owner: str, parts: Sequence[str]) -> str:
    name = owner.replace("-", " ")
    shown = ", ".join(part.replace(".", " ") for part in parts)
    return f"{name} {shown}" if shown else name


def natural(text: str) -> tuple[tuple[int, str], ...]:
    """Sort 9 before 10, and text after numbers."""
    words: list[str] = []
    for letter in text:
        if words and words[-1][-1].isdigit() == letter.isdigit():
            words[-1] += letter
        else:
            words.append(letter)
    return tuple((int(word), "") if word.isdigit() else (-1, word) for word in words)


def in_runs(numbers: Iterable[int]) -> str:
    """Return numbers with their runs drawn together.

    Examples
    --------
    >>> in_runs([1, 2, 3, 6, 8, 9])
    '1\N{EN DASH}3, 6, 8, 9'
    """
    runs: list[list[int]] = []
    for number in sorted(set(numbers)):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(
        f"{run[0]}\N{EN DASH}{run[-1]}" if len(run) > 2 else ", ".join(map(str, run))  # noqa: PLR2004
        for run in runs
    )
