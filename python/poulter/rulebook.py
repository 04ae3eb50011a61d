"""The rules themselves: listed, and set side by side for one question."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from ._core import Quantity
from .answers import Answer, Record
from .door import ask
from .quantities import QuantityLike, listed

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Literal

__all__ = ["CompareRow", "RuleList", "RuleRow", "SideBySide", "compare", "rules"]


class RuleRow(Record):
    """One rule, with what it asks, when it held and where it is printed.

    Examples
    --------
    >>> row = rules(standard="uk", topic="hold.hot").rows[0]
    >>> row.id, row.limit
    ('uk.hold.hot', 'at least 63 °C')
    """

    __slots__ = ()
    id: str
    standard: str
    stage: str
    """The stage of the job."""
    topic: str
    question: str
    """The topic as a question."""
    title: str
    kind: Literal["requirement", "guidance", "common-practice", "model"]
    """How binding it is."""
    status: Literal["read", "copy", "derived", "memory", "common-practice"]
    """How the number was read in its source."""
    limit: str
    """What it asks, in words."""
    species: tuple[str, ...]
    """Species it is for; empty for all."""
    cut: tuple[str, ...]
    """Cuts it is for; empty for all."""
    process: tuple[str, ...]
    """Processes it is only for; empty for any."""
    effective_from: str | None
    """The first day it held; None when the source gives none."""
    effective_to: str | None
    """The last day it held; None while it holds."""
    last_checked: str
    """When it was last compared with its source."""
    sources: tuple[str, ...]
    """Documents, with section."""
    note: str
    """A conflict or a trap, in a sentence."""
    added_by_caller: bool

    def __str__(self) -> str:
        return f"{self.id}: {self.limit}"


class RuleList(Answer, kind="rules"):
    """The rules that a question selects. Each row carries its own sources.

    Examples
    --------
    >>> {row.standard for row in rules(standard="uk").rows}
    {'uk'}
    """

    __slots__ = ()
    _views = {"rows": RuleRow}

    rows: tuple[RuleRow, ...]
    """In the order a cook meets the stages."""


class CompareRow(Record):
    """What one standard says.

    Examples
    --------
    >>> row = compare("hold.hot", standards=["uk"], reading="62.9 °C").rows[0]
    >>> row.standard, row.verdict
    ('uk', 'fails')
    """

    __slots__ = ()
    _views = {"rule": RuleRow, "also": RuleRow}

    standard: str
    title: str
    says: str
    """What it asks, in words, or ``"no published row"``."""
    rule: RuleRow | None
    """The rule that decides; None where the standard is silent."""
    also: tuple[RuleRow, ...]
    """Its further rules on the question."""
    verdict: Literal["meets", "fails", "cannot-tell"] | None
    """On the reading or time, where one was given and a rule can judge it."""
    margin: Quantity | None
    """How far from the limit; negative on the unsafe side."""


class SideBySide(Answer, kind="compare"):
    """What several standards say to one question.

    Examples
    --------
    >>> len(compare("hold.hot", standards=["uk", "scotland"]).rows)
    2
    """

    __slots__ = ()
    _views = {"rows": CompareRow}

    question: str
    rows: tuple[CompareRow, ...]
    """One for each standard, a silent one too."""


def rules(
    *,
    standard: str | None = None,
    topic: str | None = None,
    stage: str | None = None,
    species: str | None = None,
    cut: str | None = None,
    kind: str | None = None,
    status: str | None = None,
    on: date | str | None = None,
    superseded: bool | None = None,
    id: str | None = None,
    house_rules: str | None = None,
) -> RuleList:
    """List the rules. Every argument narrows the list; without any it is the whole book.

    Every argument narrows the list; without any it is the whole book. A rule for all species or cuts is listed for
    each of them.

    Parameters
    ----------
    standard : str, optional
        One standard; all of them when left out.
    topic : str, optional
        One question, such as ``"hold.hot"``.
    stage : str, optional
        One stage of the job: ``"purchase"``, ``"storage"``, ``"thaw"``, ``"brine"``, ``"prepare"``, ``"roast"``,
        ``"doneness"``, ``"serve"``, ``"gravy"``, ``"leftovers"`` or ``"people"``.
    species : str, optional
        Rules that apply to this kind of bird.
    cut : str, optional
        Rules that apply to this cut.
    kind : str, optional
        How binding the rules are, such as ``"guidance"``.
    status : {"read", "copy", "derived", "memory", "common-practice"}, optional
        Rules whose number was read this way.
    on : date | str, optional
        Rules that held on this day; those that hold now when left out.
    superseded : bool, optional
        Whether rules that no longer hold are told too.
    id : str, optional
        One rule by its id, whether it still holds or not.
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Returns
    -------
    RuleList
        The rules that a question selects. Each row carries its own sources.

    Raises
    ------
    InputError
        An argument is missing, unknown or out of range; the error names it.
    UnitError
        A unit is missing, unknown or of another dimension.
    RuleError
        The standard is unknown, a rule of the house is broken, or no rule covers the case.

    Examples
    --------
    >>> rules(standard="uk", topic="hold.hot").rows[0].limit
    'at least 63 °C'
    >>> {row.kind for row in rules(standard="us-consumer", kind="guidance").rows}
    {'guidance'}
    """
    fields = {
        "standard": standard,
        "topic": topic,
        "stage": stage,
        "species": species,
        "cut": cut,
        "rule_kind": kind,
        "status": status,
        "on": on,
        "superseded": superseded,
        "id": id,
        "house_rules": house_rules,
    }
    return RuleList._adopt(ask("rules", fields))


def compare(
    topic: str,
    *,
    standards: Sequence[str] | None = None,
    reading: QuantityLike | None = None,
    duration: QuantityLike | None = None,
    process: str | None = None,
    species: str | None = None,
    cut: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> SideBySide:
    """Set the standards side by side for one question, each speaking for itself alone.

    A ``reading`` or ``duration`` is judged under each; together they are a reading and how long it held.

    Parameters
    ----------
    topic : str
        The question, such as ``"hold.hot"``.
    standards : Sequence[str], optional
        The standards, in the order of the answer; every one when left out.
    reading : QuantityLike, optional
        A reading to judge under each (degC, degF, K).
    duration : QuantityLike, optional
        A time to judge under each; beside a reading, how long it held (s, min, h, d).
    process : str, optional
        A process word, where it matters, such as ``"cold-display"``.
    species : str, optional
        The kind of bird, such as ``"chicken"``; turkey when left out.
    cut : str, optional
        The cut, such as ``"boneless-breast"``; whole when left out.
    on : date | str, optional
        The day whose rules are wanted; those that hold now when left out.
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Returns
    -------
    SideBySide
        What several standards say to one question.

    Raises
    ------
    InputError
        An argument is missing, unknown or out of range; the error names it.
    UnitError
        A unit is missing, unknown or of another dimension.
    RuleError
        The standard is unknown, a rule of the house is broken, or no rule covers the case.

    References
    ----------
    * England, statutory instruments, Food Hygiene (England) Regulations 2005, SI 2005/2059, Schedule 4,
      paragraph 6
    * Scotland, statutory instruments, Food Hygiene (Scotland) Regulations 2006, SSI 2006/3, Schedule 4

    Examples
    --------
    >>> answer = compare("hold.hot", reading="63 °C", standards=["uk", "scotland"])
    >>> [(row.standard, row.verdict) for row in answer.rows]
    [('uk', 'meets'), ('scotland', 'fails')]
    """
    fields = {
        "topic": topic,
        "standards": listed(standards),
        "reading": reading,
        "duration": duration,
        "process": process,
        "species": species,
        "cut": cut,
        "on": on,
        "house_rules": house_rules,
    }
    return SideBySide._adopt(ask("compare", fields))
