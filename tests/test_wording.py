"""Numbers in words: what is never said."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from hitlab.wording import chance_text, percent


@given(st.floats(0, 1))
def test_a_chance_is_never_said_to_be_certain(chance):
    said = chance_text(chance)
    assert said not in ("0 %", "100 %")
    number = float(said.removeprefix("more than ").removeprefix("less than ").removesuffix(" %"))
    assert abs(100 * chance - number) <= (1 if "than" in said else 0.5) + 1e-9


@given(st.floats(0, 1))
def test_a_share_is_all_or_nothing_only_where_it_is_exactly_that(share):
    assert (percent(share) == "100 %") == (share == 1)
    assert (percent(share) == "0 %") == (share == 0)


def test_what_is_not_known_is_said_so():
    assert chance_text(float("nan")) == "unknown"
