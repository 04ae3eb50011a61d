"""What the site takes from the package itself: the arguments of every question, the rules, the errors and the units."""

import inspect
import json

from docutils import nodes
from docutils.parsers.rst import Directive, directives

import poulter
from poulter import _core

SCHEMA = json.loads(poulter.request_schema())
QUESTIONS = {each["properties"]["kind"]["const"]: each["properties"] for each in SCHEMA["oneOf"]}
# Arguments of Python that the core does not have under this name.
OWN = {
    "elapsed_s": "Times in seconds since the start: a list or a one-dimensional buffer of float64, none missing.",
    "temp": "Temperatures, as long as ``elapsed_s``: one column, or a column for each place by its name; None and NaN "
    "are missing readings.",
    "unit": "The unit of ``temp``: ``degC``, ``degF`` or ``K``.",
    "csv": "The log as CSV text whose heading names the units, in the place of the columns.",
    "order": "An `Order`, a mapping of the same fields, or TOML text.",
}


def setup(app):
    """Add the directives and complete the docstrings."""
    app.connect("autodoc-process-docstring", arguments)
    app.add_directive("rule-table", RuleTable)
    app.add_directive("error-table", ErrorTable)
    app.add_directive("unit-list", UnitList)
    return {"parallel_read_safe": True}


def arguments(app, what, name, thing, options, lines):
    """Add the arguments of a question, with units and ranges, as its schema describes them."""
    kind = name.rpartition(".")[2]
    if what != "function" or kind not in QUESTIONS or getattr(poulter, kind) is not thing:
        return
    fields = QUESTIONS[kind]
    lines += ["", ":Arguments:"]
    for argument in inspect.signature(thing).parameters.values():
        described = fields.get(argument.name.rstrip("_"), {})
        text = described.get("description") or OWN.get(argument.name)
        if text is None:
            # Described in the docstring alone.
            continue
        # The first line of a longer description says what it is.
        said = " ".join(text.split("\n\n")[0].split()).replace("`", "``").replace("````", "``")
        lines.append(f"    * **{argument.name}**{accepted(described)}: {said}")
    raises = "`PoulterError`, with the field at fault, what was given and what is allowed."
    lines += ["", f":Raises: {raises}", ""]


def accepted(described):
    """The words or the sort of quantity that a field takes."""
    options = described.get("anyOf", [described])
    names = [each["$ref"].rpartition("/")[2] for each in options if "$ref" in each]
    for name in names:
        definition = SCHEMA["$defs"][name]
        words = definition.get("enum") or [each.get("const") for each in definition.get("oneOf", [])]
        if words and all(isinstance(word, str) for word in words):
            return f" ({', '.join(f'``{word}``' for word in words)})"
        for form in definition.get("anyOf", []):
            units = form.get("properties", {}).get("unit", {}).get("enum")
            if units:
                return f" (a quantity in {', '.join(units)})"
    return ""


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
                entry += nodes.paragraph(text=str(text))
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
