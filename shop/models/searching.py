"""What somebody typed into a search field, as words to look for."""

MOST_WORDS = 8
LONGEST_WORD = 80


def search_words(text: str) -> list[str]:
    """Return the words, without what no database column can hold.

    Examples
    --------
    >>> search_words(" heron  350 ")
    ['heron', '350']
    """
    readable = "".join(letter if letter.isprintable() else " " for letter in text)
    return [word[:LONGEST_WORD] for word in readable.split()[:MOST_WORDS]]
