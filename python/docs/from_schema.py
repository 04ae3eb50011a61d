"""What the site takes from the package itself: the rules, the errors and the units."""

from docutils import nodes
from docutils.parsers.rst import Directive, directives

import poulter
from poulter import _core


def setup(app):
    """Add the directives."""
    app.add_directive("rule-table", RuleTable)
    app.add_directive("error-table", ErrorTable)
    app.add_directive("unit-list", UnitList)
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
