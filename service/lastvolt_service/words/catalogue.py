"""What a language says: sentences by code, with the names of the numbers that they carry.

A sentence is a template: ``{value}``, ``{limit}``, ``{apart}``, ``{part}``, ``{case}`` and
``{detail}`` are those of a check, every other name is a field of the answer or of the request,
``{suppression.kind}`` one within it, ``{candidates.-2.size}`` one of an item of a list, and
``{cases.[worst_case].source_v}`` one of the item that another field names, ``[part]`` that which a
check is about; ``{current_a:size}`` is written without its sign, ``{length_m:down}`` rounded down,
for it may be that at most, ``{rating_a:up}`` up, for it must be that at least. The name says which
number it is, and its end which unit. A sentence whose number is not there is left out.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class When:
    """What is said only where a field has a certain value, such as a word, or none."""

    field: str
    value: str | bool | None
    say: "Text"

    def holds(self, found: object) -> bool:
        """Whether it is said of what was found in the field."""
        return found == self.value


@dataclass(frozen=True, slots=True)
class Unless(When):
    """What is said only where a field has a value, and another one than this."""

    def holds(self, found: object) -> bool:
        """Whether it is said of what was found in the field."""
        return found is not None and found != self.value


@dataclass(frozen=True, slots=True)
class Weigh:
    """Sentences that weigh two numbers: ``{value}``, ``{limit}``, and ``{apart}`` between them.

    Attributes
    ----------
    value, limit : str
        Names of these two.
    enough, short : str
        What is said where the first is not less than the second, and where it is.
    """

    value: str
    limit: str
    enough: str
    short: str


Text = str | tuple[str | When | Weigh, ...]


@dataclass(frozen=True, slots=True)
class CheckWords:
    """What is said of a check.

    Attributes
    ----------
    name : str
        The question in a few words.
    passes, fails, unknown : str or tuple
        One sentence to act on for each verdict; several where some depend on what is there.
    marginal : str or tuple
        By default that of a pass, and that the margin is small.
    undecided : str or tuple
        Where the verdict flips within what is known.
    within_bounds : str or tuple
        Where it does so within the bounds of an input, ``{measure}``; by default that of all.
    """

    name: str
    passes: Text
    fails: Text = ()
    unknown: Text = ()
    marginal: Text = ()
    undecided: Text = ()
    within_bounds: Text = ()


@dataclass(frozen=True, slots=True)
class OperationWords:
    """What is said of an operation.

    Attributes
    ----------
    headline : str or tuple
        The answer in one sentence that stands alone.
    short : str or tuple
        The same where the first of the numbers that are weighed is less than the second.
    weighs : tuple of str
        Names of these two; ``{apart}`` is what lies between them.
    steps : tuple
        What to do, in this order: all of it is told, for half a plan is none.
    facts : tuple
        What else to know, most important first.
    verdict : str or tuple
        What stands before the headline, in a few words; in reports by default what the checks say.
    told : tuple of str
        Codes of checks that these sentences tell already.
    tells : str
        Field with the check that the headline tells; by default it tells none.
    told_part : str
        Field that names the part of which they do; by default all do.
    about : tuple
        Codes of checks that the headline tells where they fail; of some it does in one case only.
        Where another is worse, that comes before it; by default the headline comes first, whatever
        fails.
    checks : mapping of str to CheckWords
        By code.
    remedies : mapping of str to str
        What to do, by code; ``{new}`` is the value to be put in.
    reasons : mapping of str to str or tuple
        Why an advice is given, by code.
    names : mapping of str to str
        What other codes are called in sentences, such as those of zones.
    short_names : mapping of str to str
        What names in these sentences begin with in place of longer ones.
    """

    headline: Text
    short: Text = ()
    weighs: tuple[str, str] | None = None
    steps: tuple[Text, ...] = ()
    facts: tuple[Text, ...] = ()
    verdict: Text = ()
    told: tuple[str, ...] = ()
    tells: str = ""
    told_part: str = ""
    about: tuple[str | When, ...] = ()
    checks: Mapping[str, CheckWords] = field(default_factory=dict)
    remedies: Mapping[str, str] = field(default_factory=dict)
    reasons: Mapping[str, Text] = field(default_factory=dict)
    names: Mapping[str, str] = field(default_factory=dict)
    short_names: Mapping[str, str] = field(default_factory=dict)

    def name(self, code: str) -> str:
        """Say what a code is called; a text that is none stays as it is."""
        check = self.checks.get(code)
        return check.name if check is not None else self.names.get(code, code)


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """What is said round every answer.

    Attributes
    ----------
    verdicts : mapping of str to str
        The first words, by the worst verdict.
    as_far_as_judged : str
        The same where something passes and something was not judged.
    first_line : mapping of str to str
        Added to the first sentence where checks come out like this, by verdict.
    first_line_else : mapping of str to str
        The same where the first sentence tells one of them.
    fails_as_it_is : str
        The same of what fails in the circuit as it is, before anything is done to it.
    small_margin : str
        Added to the sentence of a check that passes by little.
    unsure, unsure_by : str
        Of any check that passes or fails within the bounds of an input, and its numbers.
    one_more, more : str
        Of failed checks beyond those that are told.
    check_of_parts : str
        A check in a first line, with the parts that it is of.
    check_of_part, check_becomes, limit_becomes, in_place_of, check_is_gone : str
        What becomes of a failed check where a change is made.
    both_changes, change_brings : str
        Of two changes together, and of a change with what it brings.
    basis, more_sources, doubtful, caution : str
        The last lines.
    """

    verdicts: Mapping[str, str]
    as_far_as_judged: str
    first_line: Mapping[str, str]
    first_line_else: Mapping[str, str]
    fails_as_it_is: str
    small_margin: str
    unsure: str
    unsure_by: str
    one_more: str
    more: str
    check_of_part: str
    check_of_parts: str
    check_becomes: str
    limit_becomes: str
    in_place_of: str
    check_is_gone: str
    both_changes: str
    change_brings: str
    basis: str
    more_sources: str
    doubtful: str
    caution: str
