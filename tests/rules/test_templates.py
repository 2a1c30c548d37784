"""A template shows what it was given: no query, no script, no style of its own."""

import re

from tests.rules.source import Source, sources

QUERY = re.compile(
    r"\.(all|filter|exclude|first|last|exists|values|values_list|order_by|get_\w+_by"
    r"|objects|select_related|prefetch_related|\w+_set)\b"
)
TAG = re.compile(r"{[{%](.*?)[%}]}", re.DOTALL)
MARKUP = {
    "an inline style": re.compile(r"\sstyle\s*=", re.IGNORECASE),
    "an inline handler": re.compile(r"\son[a-z]+\s*=\s*[\"']", re.IGNORECASE),
    "a script in the page": re.compile(
        r"<script(?![^>]*\bsrc=)(?![^>]*application/json)", re.IGNORECASE
    ),
    "a file from elsewhere": re.compile(
        r"(?:src|href)=[\"'](?:https?:)?//", re.IGNORECASE
    ),
    "text that is not escaped": re.compile(r"\|\s*safe\b|{%\s*autoescape\s+off"),
}
STYLE_ELEMENT = re.compile(r"<style\b", re.IGNORECASE)


def breaches(source: Source) -> list[str]:
    found = [
        f"{source.path}:{line_of(source, tag.start())}: a query in {tag.group(0)!r}"
        for tag in TAG.finditer(source.text)
        if QUERY.search(tag.group(1)) and not tag.group(0).startswith("{% comment")
    ]
    for what, pattern in MARKUP.items():
        found.extend(
            f"{source.path}:{line_of(source, match.start())}: {what}"
            for match in pattern.finditer(source.text)
        )
    if not source.path.startswith("templates/paper/"):
        found.extend(
            f"{source.path}:{line_of(source, match.start())}: a style element"
            for match in STYLE_ELEMENT.finditer(source.text)
        )
    return found


def line_of(source: Source, place: int) -> int:
    return source.text.count("\n", 0, place) + 1


def test_templates_show_what_they_were_given() -> None:
    found = [
        breach
        for source in sources("templates", suffix=".html")
        for breach in breaches(source)
    ]
    assert found == []


def test_the_rule_sees_queries_scripts_and_styles() -> None:
    for text in (
        "{{ bike.work_orders.all }}",
        "{% for order in bike.workorder_set.all %}",
        "{% if rows.exists %}",
        '<p style="color: red">',
        '<button onclick="go()">',
        "<script>go()</script>",
        '<script src="https://cdn.example/x.js"></script>',
        '<link href="//cdn.example/x.css">',
        "{{ note|safe }}",
        "<style>p { color: red }</style>",
    ):
        assert breaches(Source("templates/shop/x.html", text)), text
    for text in (
        "{% for row in page.rows %}{{ row.label }}{% endfor %}",
        '<script src="{% static \'shop/bench.js\' %}" type="module"></script>',
        "<a href=\"{% url 'shop:bikes' %}\">Bikes</a>",
    ):
        assert not breaches(Source("templates/shop/x.html", text)), text
