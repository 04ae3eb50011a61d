"""One check under several standards, of which the worst verdict counts."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from .answers import Answer, Finding, Record
from .door import ask
from .quantities import listed, paired

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Literal

__all__ = [
    "Member",
    "StrictestVerdict",
    "strictest_cooking",
    "strictest_cooling",
    "strictest_holding",
]


class Member(Record):
    """The judgement of one standard.

    Examples
    --------
    >>> check = {"side": "hot", "temperatures": ["63 °C"]}
    >>> member = strictest_holding(check, standards=["uk"]).members[0]
    >>> member.standard, member.verdict
    ('uk', 'meets')
    """

    __slots__ = ()
    _views = {"findings": Finding}

    standard: str
    verdict: Literal["meets", "fails", "cannot-tell"]
    """``"cannot-tell"`` where the standard publishes no row."""
    findings: tuple[Finding, ...]
    silent: str | None
    """Why it did not judge."""


class StrictestVerdict(Answer, kind=("strictest_cooking", "strictest_cooling", "strictest_holding")):
    """The judgement of a set of standards.

    Examples
    --------
    >>> check = {"side": "hot", "temperatures": ["63 °C"]}
    >>> strictest_holding(check, standards=["uk", "scotland"]).decided_by
    ('scotland',)
    """

    __slots__ = ()
    _views = {"members": Member}

    verdict: Literal["meets", "fails", "cannot-tell"]
    """The worst of the members. Treat ``"cannot-tell"`` as ``"fails"``."""
    decided_by: tuple[str, ...]
    """The standards that gave it."""
    members: tuple[Member, ...]


def strictest_cooking(
    check: Mapping[str, object], *, standards: Sequence[str], house_rules: str | None = None
) -> StrictestVerdict:
    """Judge cooking under each of several standards.

    Parameters
    ----------
    check : Mapping[str, object]
        The arguments of `check_cooking`, all but ``standard``.
    standards : Sequence[str]
        The standards; at least one.
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Returns
    -------
    StrictestVerdict
        The judgement of a set of standards.

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
    * USDA Food Safety and Inspection Service; FoodSafety.gov, Safe Minimum Internal Temperature Chart,
      Poultry
    * USDA Food Safety and Inspection Service, Turkey Basics: Safe Cooking (after 2006)
    * USDA Food Safety and Inspection Service, Turkey Basics: Safe Cooking (revised September 2003)

    Examples
    --------
    >>> places = {"breast": "170 °F", "thigh": "172 °F", "wing": "171 °F"}
    >>> answer = strictest_cooking({"readings": places}, standards=["us-consumer", "canada"])
    >>> answer.verdict, answer.decided_by
    ('fails', ('canada',))
    """
    return _strictest("strictest_cooking", check, standards, {}, house_rules)


def strictest_cooling(
    check: Mapping[str, object], *, standards: Sequence[str], house_rules: str | None = None
) -> StrictestVerdict:
    """Judge cooling under each of several standards.

    Parameters
    ----------
    check : Mapping[str, object]
        The arguments of `check_cooling`, all but ``standard``.
    standards : Sequence[str]
        The standards; at least one.
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Returns
    -------
    StrictestVerdict
        The judgement of a set of standards.

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
    * US Food and Drug Administration, Food Code (2022), 3-501.14(A)

    Examples
    --------
    >>> readings = [("0 min", "135 °F"), ("2 h", "70 °F"), ("6 h", "41 °F")]
    >>> strictest_cooling({"readings": readings}, standards=["us-food-code-2022"]).verdict
    'meets'
    """
    pairs = {"readings": paired("elapsed", "temperature")}
    return _strictest("strictest_cooling", check, standards, pairs, house_rules)


def strictest_holding(
    check: Mapping[str, object], *, standards: Sequence[str], house_rules: str | None = None
) -> StrictestVerdict:
    """Judge hot or cold holding under each of several standards.

    Parameters
    ----------
    check : Mapping[str, object]
        The arguments of `check_holding`, all but ``standard``.
    standards : Sequence[str]
        The standards; at least one.
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Returns
    -------
    StrictestVerdict
        The judgement of a set of standards.

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
    >>> check = {"side": "hot", "temperatures": ["63 °C"]}
    >>> [member.verdict for member in strictest_holding(check, standards=["uk", "scotland"]).members]
    ['meets', 'fails']
    """
    return _strictest("strictest_holding", check, standards, {"temperatures": None}, house_rules)


def _strictest(
    kind: str,
    check: Mapping[str, object],
    standards: Sequence[str],
    lists: Mapping[str, Callable[[object], object] | None],
    house_rules: str | None,
) -> StrictestVerdict:
    given: object = check
    # What is no mapping goes on as it is, and the core refuses it at its field.
    if isinstance(check, Mapping):
        given = {
            name: listed(value, lists[name]) if name in lists else value
            for name, value in check.items()
            if value is not None
        }
    fields = {"check": given, "standards": listed(standards), "house_rules": house_rules}
    return StrictestVerdict._adopt(ask(kind, fields))
