"""What the site takes from the package itself: the rules, the errors, the units and the fields of requests."""

import json

from docutils import nodes
from docutils.parsers.rst import Directive, directives

import poulter
from poulter import _core


def setup(app):
    """Add the directives."""
    app.add_directive("rule-table", RuleTable)
    app.add_directive("error-table", ErrorTable)
    app.add_directive("unit-list", UnitList)
    app.add_directive("request-fields", RequestFields)
    return {"parallel_read_safe": True}


def table(headings, rows):
    """A table of text."""
    made = nodes.table(classes=["colwidths-auto"])
    group = nodes.tgroup(cols=len(headings))
    group += [nodes.colspec(colwidth=1) for _ in headings]
    head, body = nodes.thead(), nodes.tbody()
    for part, lines in ((head, [headings]), (body, rows)):
        for line in lines:
            row = nodes.row()
            for text in line:
                entry = nodes.entry()
                entry += nodes.paragraph("", "", *(text if isinstance(text, list) else [nodes.Text(str(text))]))
                row += entry
            part += row
    group += [head, body]
    made += group
    return made


class RuleTable(Directive):
    """The rules of one standard."""

    required_arguments = 1

    def run(self):
        """Make the table."""
        rows = [
            (rule.id, rule.title, rule.limit, rule.kind, rule.status, "; ".join(rule.sources), rule.last_checked)
            for rule in poulter.rules(standard=self.arguments[0]).rows
        ]
        return [table(("Rule", "Title", "Limit", "Kind", "Read", "Source", "Last checked"), rows)]


class ErrorTable(Directive):
    """All kinds of error."""

    def run(self):
        """Make the table."""
        from poulter.errors import class_for

        rows = [(code, slug, class_for(code).__name__, advice) for code, slug, advice in _core.error_kinds()]
        return [table(("Code", "Word", "Exception", "What to do"), rows)]


class UnitList(Directive):
    """All units of the wire."""

    option_spec = {"class": directives.class_option}

    def run(self):
        """Make the list."""
        return [nodes.paragraph("", "", *(nodes.literal(text=f"{unit} ") for unit in poulter.units()))]


class RequestFields(Directive):
    """Every question with its fields, then what the fields hold."""

    def run(self):
        """Make a section of each."""
        schema = json.loads(poulter.request_schema())
        named = schema["$defs"]
        made = []
        for question in schema["oneOf"]:
            kind = question["properties"]["kind"]["const"]
            made.append(section(kind, nodes.literal(text=kind), question, without="kind"))
        for name in sorted(named):
            made.append(section(name, nodes.Text(name), named[name]))
        return made


def section(name, title, schema, without=None):
    """A heading, what is said of it, and its fields or words."""
    made = nodes.section(ids=[f"request-{name}"])
    made += nodes.title("", "", title)
    for paragraph in schema.get("description", "").split("\n\n"):
        made += nodes.paragraph("", "", *said(paragraph))
    if "properties" in schema:
        made += field_table(schema, without)
    for choice in schema.get("oneOf", []):
        if "const" not in choice:
            words = choice.get("properties", {}).get("kind", {}).get("const") or choice.get("description", "")
            made += nodes.rubric(text=words)
            made += field_table(choice, without) if "properties" in choice else nodes.paragraph("", "", *shape(choice))
    words = [(choice["const"], choice.get("description", "")) for choice in schema.get("oneOf", []) if "const" in choice]
    if words:
        made += table(("Word", "Meaning"), [([nodes.literal(text=word)], said(meaning)) for word, meaning in words])
    if "anyOf" in schema or "enum" in schema:
        made += nodes.paragraph("", "", *shape(schema))
    return made


def field_table(schema, without):
    """The fields of an object."""
    needed = schema.get("required", [])
    rows = [
        (
            [nodes.literal(text=field)],
            shape(held),
            "yes" if field in needed else "",
            said(held.get("description", "")),
        )
        for field, held in sorted(schema["properties"].items(), key=lambda item: item[0] not in needed)
        if field != without
    ]
    return table(("Field", "Holds", "Needed", "What it is"), rows)


def said(text):
    """A description, with what stands in backquotes as code."""
    parts = enumerate(text.split("`"))
    return [nodes.literal(text=part) if place % 2 else nodes.Text(part) for place, part in parts if part]


def shape(schema):
    """What a field holds, with a link to where that is told."""
    if "$ref" in schema:
        name = schema["$ref"].rpartition("/")[2]
        return [nodes.reference("", name, refid=f"request-{name}", internal=True)]
    if "const" in schema:
        return [nodes.literal(text=json.dumps(schema["const"]))]
    if "enum" in schema:
        return between([[nodes.literal(text=word)] for word in schema["enum"]])
    choices = [choice for choice in schema.get("anyOf", schema.get("oneOf", [])) if choice != {"type": "null"}]
    if choices:
        return between([shape(choice) for choice in choices])
    kinds = schema.get("type", [])
    kind = next((kind for kind in ([kinds] if isinstance(kinds, str) else kinds) if kind != "null"), "")
    if kind == "array":
        return [nodes.Text("list of "), *shape(schema.get("items", {}))]
    if kind == "object" and "unit" in schema.get("properties", {}):
        return [nodes.literal(text='{"value": …, "unit": …}'), nodes.Text(" in "), *shape(schema["properties"]["unit"])]
    if kind == "object" and isinstance(schema.get("additionalProperties"), dict):
        return [nodes.Text("object of "), *shape(schema["additionalProperties"])]
    words = {"string": "text", "integer": "whole number", "number": "number", "boolean": "true or false"}
    return [nodes.Text(words.get(kind, "object" if kind else "any value"))]


def between(choices):
    """Choices with "or" between them."""
    made = []
    for place, choice in enumerate(choices):
        made += [nodes.Text(" or "), *choice] if place else choice
    return made
