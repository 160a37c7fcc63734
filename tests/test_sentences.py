"""The sentences for air: their length, their grammar, and that each says what the verdict says.

Ten seconds at 150 words a minute are 25 words (common practice, no source).
"""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

import hitlab
from hitlab.claims import Claim
from hitlab.claims.clauses import clause_of
from hitlab.claims.sentences import MOST_WORDS, MOST_WORDS_OF_HEADLINE
from hitlab.claims.verdicts import verdict_on
from hitlab.counting.counts import Counts
from hitlab.counting.events import EVENTS, fitting_denominators
from hitlab.counting.facts import Conventions
from hitlab.counting.situations import situation
from hitlab.evidence.samples import SAMPLES
from hitlab.spoken import chance_spoken, number_spoken, share_about, share_spoken

_QUICK = ("leads", "top", "above", "near", "ahead")
_JARGON = re.compile(r"\b(posterior|prior|odds|interval|shrunk|percentile|sigma|p-value|underlying)\b", re.I)
_TWICE = re.compile(r"\b(\w+) \1\b", re.I)
_PILES = re.compile(r"two.strike (swing|pitch|whiff|foul)|breaking ball (swing|whiff)|_", re.I)
_NEGATIVES = re.compile(r"\b(not|no|never|nobody|none)\b", re.I)


def _words(text: str) -> int:
    return len(text.split())


def _demand_fit_for_air(claim: Claim) -> None:
    told = claim.claim
    for text in (claim.headline, claim.say):
        assert not _JARGON.search(text), (told, text)
        assert not _TWICE.search(text), (told, text)
        assert not _PILES.search(text), (told, text)
        assert len(_NEGATIVES.findall(text)) <= 1 + ("no balls" in text), (told, text)
        assert text.count("chance") <= 1, (told, text)
        assert text[0].isupper() or not text[0].isalpha(), (told, text)
        if claim.question.who and claim.question.subject != "league":
            assert claim.question.who in text, (told, text)
    assert _words(claim.say) <= MOST_WORDS, (told, claim.say)
    assert _words(claim.headline) <= MOST_WORDS_OF_HEADLINE, (told, claim.headline)
    assert claim.say.endswith(".")
    assert claim.say.casefold().startswith(clause_of(claim).opening.casefold())
    assert _words(claim.avoid.removeprefix(claim.tempting)) < 15
    assert claim.avoid.startswith(("“", "Nor"))
    for text in (claim.follow_up, claim.say_in_full, claim.avoid, claim.would_change):
        assert not _TWICE.search(text), (told, text)


def _every_verdict(claim: Claim) -> list[Claim]:
    """Return a claim as it would be with each verdict, a chance for each, and without one."""
    if claim.about == "record":
        verdicts = ("holds", "does not hold", "open")
        return [replace(claim, verdict=verdict) for verdict in verdicts]  # type: ignore[arg-type]
    chances = (0.0, 0.004, 0.03, 0.0999, 0.1, 0.1001, 0.24, 0.42, 0.5, 0.56, 0.71, 0.8999, 0.9, 0.96, 1.0)
    told = [
        replace(claim, chance=chance, verdict=verdict_on(chance, claim.holds_at, claim.fails_at))
        for chance in chances
    ]
    return [*told, claim.withheld("hardness is unknown for 49 % of the contact")]


def _asked(season_counts: Counts, kinds: tuple[str, ...]) -> list[Claim]:
    asked = [
        question.ask(season_counts)
        for question in SAMPLES
        if question.kind in kinds
        and question.about == "underlying"
        and question.subject == "hitter"
        and not question.when
        and not question.since
    ]
    # What is said of a record is made of the same parts.
    return [*asked, *(replace(claim, about="record", chance=None) for claim in asked)]


@pytest.fixture(scope="module")
def of_counts() -> list[Claim]:
    """Claims that counts answer."""
    return _asked(hitlab.tally(hitlab.demo_season()), _QUICK)


def test_sentences_of_every_verdict_are_fit_for_air(of_counts: list[Claim]) -> None:
    assert {claim.kind for claim in of_counts} == set(_QUICK)
    for claim in of_counts:
        for told in _every_verdict(claim):
            _demand_fit_for_air(told)


def test_a_sentence_says_what_the_verdict_says(of_counts: list[Claim]) -> None:
    for claim in of_counts:
        clause = clause_of(claim)
        for told in _every_verdict(claim):
            if told.about == "record":
                so = {"holds": clause.so_far, "does not hold": clause.not_so_far}
                expected = so.get(told.verdict, clause.so_far)
                assert expected.casefold() in told.say.casefold()
                continue
            if told.chance is None:
                assert told.say == f"This table cannot tell whether {clause.plain}."
                assert told.verdict_words == "Unknown"
                continue
            begin = {"holds": clause.likely, "open": clause.possible}.get(told.verdict)
            if begin:
                assert told.say.casefold().startswith(begin.casefold()), told.say
            else:
                assert clause.unlikely in told.say or f"that {clause.plain}" in told.say, told.say


def test_what_every_count_is_called_aloud(of_counts: list[Claim]) -> None:
    """Every rate of the ledger, in a ranking: a verb where there is one, never the name of a column."""
    first = next(claim for claim in of_counts if claim.kind == "leads" and claim.about == "underlying")
    pairs = [(event, per) for event in EVENTS for per in fitting_denominators(event, Conventions())]
    assert len(pairs) > 60
    for event, per in pairs:
        claim = replace(first, numbers={**first.numbers, "event": event, "per": per})
        assert not _PILES.search(claim.say), claim.say
        assert not _TWICE.search(claim.say), claim.say
        assert (" with two strikes" in claim.say) == ("two_strike" in event + per), claim.say
        does = EVENTS[event.removeprefix("two_strike_")].does
        asked = "regulars in " in claim.say  # a rate of a long name stands behind "leads"
        assert (does.bare if does else "have more") in claim.say or asked, claim.say


def test_numbers_are_said_as_somebody_says_them(of_counts: list[Claim]) -> None:
    above = [claim for claim in of_counts if claim.kind == "above" and claim.about == "underlying"]
    said = " ".join(claim.say for claim in above)
    assert "on more than 16 percent of swings" in said
    assert "on fewer than one in five swings" in said
    assert "on more than three in ten at-bats" in said


@given(st.floats(0, 1), st.floats(0.55, 0.99), st.floats(0.01, 0.45))
def test_a_chance_that_is_said_agrees_with_the_verdict(
    chance: float, holds_at: float, fails_at: float
) -> None:
    holds_at, fails_at = round(holds_at, 2), round(fails_at, 2)
    text = chance_spoken(chance, holds_at, fails_at)
    if "a hundred" in text and text.startswith(("more", "less")):
        assert chance > 0.99 if text.startswith("more") else chance < 0.01
        return
    said = 0.5 if "an even chance" in text else _parsed(text)
    assert abs(said - chance) <= 0.051
    if text.startswith("just"):
        assert (said > chance) == text.startswith("just under")
        assert min(abs(said - holds_at), abs(said - fails_at)) < 1e-9
    else:
        assert verdict_on(said, holds_at, fails_at) == verdict_on(chance, holds_at, fails_at)


def _parsed(text: str) -> float:
    many, parts = re.search(r"(\S+) chances? in (.+)$", text).groups()  # type: ignore[union-attr]
    return _number(many) / (100 if parts == "a hundred" else _number(parts))


def _number(word: str) -> int:
    return (
        int(word) if word.isdigit() else next(number for number in range(21) if number_spoken(number) == word)
    )


@given(st.floats(0.005, 0.995))
def test_a_measured_share_is_said_by_a_fraction_near_it(share: float) -> None:
    text = share_about(share)
    if text in ("nearly all", "about half"):
        assert share > 0.94 or abs(share - 0.5) < 0.06
        return
    many, parts = text.removeprefix("about ").split(" in ")
    said = _number(many) / _number(parts)
    assert abs(said - share) <= 0.05


def test_shares_that_were_asked_are_said_exactly() -> None:
    assert [share_spoken(value) for value in (0.25, 2 / 3, 0.185, 0.07)] == [
        "one in four",
        "two in three",
        "18.5 percent",
        "7 percent",
    ]


@pytest.mark.slow
def test_every_sample_of_the_demo_season_is_fit_for_air() -> None:
    kinds = set()
    for question in SAMPLES:
        claim = question.ask(hitlab.demo_season())
        kinds.add(claim.kind)
        for told in _every_verdict(claim):
            _demand_fit_for_air(told)
        if question.when:
            assert situation(*question.when).words in claim.say
    assert len(kinds) == 12


def test_the_top_one_is_said_as_the_leader():
    """Nobody is "among the one who has the highest rate"."""
    counts = hitlab.tally(hitlab.demo_season())
    claim = hitlab.check_top(counts, "Nadia Izezno", top=1)
    for text in (claim.say, claim.say_in_full, claim.avoid, claim.follow_up):
        assert "the one" not in text, text
        assert "top one" not in text, text


def test_of_a_leader_it_is_said_that_she_may_truly_lead():
    """She leads the record as it stands; what is open is the rate behind it."""
    counts = hitlab.tally(hitlab.demo_season())
    claim = hitlab.check_leads(counts, "Nadia Izezno", minimum=150)
    assert claim.verdict == "open"
    assert claim.headline.startswith("Nadia Izezno may truly lead the regulars in hard-hit balls per swing")
    record = hitlab.check_leads(counts, "Nadia Izezno", about="record", minimum=150)
    assert "truly" not in record.headline + record.say


def test_what_is_assumed_of_the_true_rates_is_said_without_a_law():
    claim = hitlab.check_above(hitlab.tally(hitlab.demo_season()), "Nadia Izezno", 0.18)
    assert any("lie smoothly about one mean; how widely is not known" in one for one in claim.assumptions)
    assert not any(re.search(r"\blaws?\b", one) for one in claim.assumptions)
