"""Bodies of requests read with care."""

from collections.abc import Mapping
from typing import IO, Any

from rest_framework.exceptions import ParseError
from rest_framework.parsers import JSONParser
from typing_extensions import override


class CarefulJSONParser(JSONParser):
    """JSON, with nesting too deep to read refused instead of breaking the server."""

    @override
    def parse(
        self,
        stream: IO[Any],
        media_type: str | None = None,
        parser_context: Mapping[str, Any] | None = None,
    ) -> dict[str, Any]:
        """Return what the body holds.

        Raises
        ------
        ParseError
            The body is not JSON, or is nested too deep.
        """
        try:
            return super().parse(stream, media_type, parser_context)
        except RecursionError:
            raise ParseError("The body is nested too deep.") from None
