"""How answers look: one line for the prompt, a table for a notebook."""

from __future__ import annotations

from html import escape

from ._core import Quantity
from .answers import Answer, Record

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

__all__ = ["html", "summary"]

_LONGEST_WORDS = 40
# Colours that the common sorts of colour blindness tell apart.
_SIGNS = {
    "meets": ("&#10003;", "#0072b2"),
    "fails": ("&#10007;", "#d55e00"),
    "cannot-tell": ("?", "#767676"),
}


def summary(record: Record) -> str:
    """Return the short fields of a record in one line."""
    parts = (f"{name}={text}" for name in record if (text := _short(record[name])))
    return " ".join(parts)


def html(answer: Answer) -> str:
    """Return an answer as an HTML table: verdict, values, findings, rules and sources, cautions."""
    lists = {name: answer[name] for name in answer if _is_list(answer[name])}
    rows = [
        _row(name, _cell(answer[name]))
        for name in answer
        if name not in lists and name != "verdict" and answer[name] != ()
    ]
    blocks = [
        _verdict(answer),
        f"<table><caption>{escape(_words(answer.kind))}</caption>"
        f"<tbody>{''.join(rows)}</tbody></table>",
        _table(
            ("Verdict", "Finding", "Margin", "Rule"),
            [(f.verdict or f.kind, f.text, f.margin, f.rule) for f in lists.pop("findings", ())],
        ),
        *(_records(name, records) for name, records in lists.items()),
        _table(
            ("Rule", "Title", "Kind", "Source", "Read", "Last checked"),
            [
                (c.rule, c.title, c.kind, c.sources, c.status, c.last_checked)
                for c in answer.citations
            ],
        ),
        _list("Assumed", answer.assumed),
        _list("Keep in mind", answer.cautions),
    ]
    return f'<div class="poulter">{"".join(blocks)}</div>'


def _verdict(answer: Answer) -> str:
    # The word and its sign say it; the colour of the line only repeats it.
    verdict = answer["verdict"] if "verdict" in answer else None
    if verdict not in _SIGNS:
        return ""
    sign, colour = _SIGNS[verdict]
    style = f"border-left: .4em solid {colour}; padding: .2em .6em; font-weight: bold"
    return f'<p style="{style}"><span aria-hidden="true">{sign}</span> Verdict: {verdict}</p>'


def _short(value: Any) -> str:
    if isinstance(value, bool | int | float | Quantity):
        return str(value)
    if _has_words(value):
        return repr(str(value))
    if isinstance(value, str) and len(value) <= _LONGEST_WORDS:
        return repr(value)
    return ""


def _cell(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, Quantity):
        return escape(value.shown())
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return "<br>".join(_cell(item) for item in value)
    if isinstance(value, Record) and not _has_words(value):
        return "<br>".join(f"{escape(name)}: {_cell(value[name])}" for name in value)
    return escape(str(value))


def _has_words(value: Any) -> bool:
    return isinstance(value, Record) and type(value).__str__ is not object.__str__


def _is_list(value: Any) -> bool:
    return isinstance(value, tuple) and any(isinstance(item, Record) for item in value)


def _words(name: str) -> str:
    return name.replace("_", " ").capitalize()


def _row(name: str, cell: str) -> str:
    return f'<tr><th scope="row">{escape(_words(name))}</th><td>{cell}</td></tr>'


def _records(name: str, records: tuple[Record, ...]) -> str:
    columns = list(dict.fromkeys(column for record in records for column in record))
    rows = [
        tuple(record[column] if column in record else None for column in columns)
        for record in records
    ]
    headings = tuple(_words(column) for column in columns)
    return f"<details><summary>{escape(_words(name))}</summary>{_table(headings, rows)}</details>"


def _table(headings: tuple[str, ...], rows: list[tuple[Any, ...]]) -> str:
    if not rows:
        return ""
    head = "".join(f'<th scope="col">{escape(heading)}</th>' for heading in headings)
    body = "".join(
        f"<tr>{''.join(f'<td>{_cell(value)}</td>' for value in row)}</tr>" for row in rows
    )
    return f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


def _list(heading: str, lines: tuple[str, ...]) -> str:
    if not lines:
        return ""
    items = "".join(f"<li>{escape(line)}</li>" for line in lines)
    return f"<details><summary>{escape(heading)}</summary><ul>{items}</ul></details>"
