"""Whatever text stands where a conductor size belongs, it is a listed size or refused as none."""

import re

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from lastvolt_service.errors import UnknownSize
from lastvolt_service.tables.sizes import STANDARDS, sizes, split

LISTED = {standard: sizes(standard) for standard in STANDARDS}
ENDINGS = sorted(set(STANDARDS.values()))
# Near to right ones: the characters of sizes, their look-alikes in other scripts, and signs that
# number parsers of other kinds take.
NEARLY = st.text("0123456789/. +-_eE,awgAWGSEmM2\t\n\u0661\uff11\u00b2\u2044\u00a0", max_size=12)
TEXTS = st.one_of(
    st.text(max_size=30),
    NEARLY,
    st.builds("{} {}".format, NEARLY, st.sampled_from(ENDINGS)),
    st.builds("{}{}{}".format, NEARLY, st.sampled_from(sum(LISTED.values(), ())), NEARLY),
    st.builds("{} {}".format, st.integers(), st.sampled_from(ENDINGS)),
    st.builds("{!r} mm2".format, st.floats()),
)


def check(size, standard):
    try:
        found, number = split(size, standard)
    except UnknownSize:  # and nothing else
        return
    assert found == standard or (standard is None and found in STANDARDS)
    written, _, ending = size.partition(" ")
    assert ending == STANDARDS[found]
    assert size.isascii()
    assert size == size.strip()
    # What was read is what stands there, and stands in the list of the standard.
    if ending == "mm2":
        assert number == float(written)
        assert f"{number:g} mm2" in LISTED[found]
    else:
        ought = re.fullmatch(r"([1-4])/0", written)
        assert number == (1 - int(ought[1]) if ought else int(written))
        assert (size if number else f"1/0 {ending}") in LISTED[found]


@settings(max_examples=500, deadline=None)
@given(TEXTS, st.sampled_from((None, *STANDARDS)))
@example("9" * 5000 + " AWG", None)
@example("0." + "0" * 5000 + "1 mm2", None)
def test_any_text_is_a_size_or_none(size, standard):
    check(size, standard)


@pytest.mark.long
@settings(max_examples=200_000, deadline=None)
@given(TEXTS, st.sampled_from((None, *STANDARDS)))
def test_any_text_is_a_size_or_none_for_long(size, standard):
    check(size, standard)
