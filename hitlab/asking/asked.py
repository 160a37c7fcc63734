"""Ask in your own words: a sentence becomes a question, several of which one is to be chosen, or none.

It is asked back where a word that carries meaning has no place in the question, where a name fits several or
is spelled only nearly so, and where two claims stand in one sentence; where a table of pitches cannot tell
it, that is said, with the reason. This is a set of rules over words and no reader: a sentence that none of
them foresaw can be taken for another question. Read what it was understood as before its answer.
"""

from __future__ import annotations

import os
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from hitlab.asking.limits import ONE_SEASON
from hitlab.asking.nearest import PARTLY, in_pieces, with_nearest
from hitlab.asking.outcome import Asked
from hitlab.asking.people import Known, nicknames_of
from hitlab.asking.repeats import repeats
from hitlab.asking.restating import named_in, restated, with_name
from hitlab.asking.seasons import SEVERAL_SEASONS, none_of, season_named
from hitlab.asking.slots import read_slots
from hitlab.asking.talk import asides, corrected, mocking, spoken_to, supposed
from hitlab.asking.text import MOST_SPOKEN, Text
from hitlab.asking.turned import turned
from hitlab.asking.whole import MOST_CHOICES, example, of_two, read_whole
from hitlab.names import fold
from hitlab.questions.question import History, Question
from hitlab.showing import quoted

__all__ = ["Asked", "ask"]

_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069]")


def ask(
    text: str,
    table: Any,
    *,
    nicknames: Mapping[str, str] | str | os.PathLike[str] | None = None,
    season: str = "",
    history: History = "ids",
) -> Asked:
    """Turn a sentence into the question that it asks of a table.

    Parameters
    ----------
    text
        What a broadcaster, a coach or an analyst says: ``Izezno owns breaking balls``.
    table
        A pitch table (a checked file's path, a ``Reading``, a frame) or counts; where many are asked,
        what was looked up in one: ``hitlab.asking.Known.of(table)``.
    nicknames
        Nickname to name, or a TOML file of lines ``"The Comet" = "Nadia Izezno"``.
    season, history
        Of a table of several seasons the one that is meant, or ``career``, where the sentence itself names
        none (``in 2031``, ``this season``, ``in his career``); and how those before it are its history, as
        claims take it.

    Returns
    -------
    Asked
        The one question, or the choices, or why it cannot be asked. A word that is known to carry meaning and
        has no place in the question is asked back. Compare ``read_as`` with what was meant: rules over words
        can take a sentence that they do not foresee for another one.

    Raises
    ------
    HitlabError
        Where the table or the nicknames cannot be read.

    Examples
    --------
    >>> import hitlab
    >>> season = hitlab.demo_season()
    >>> print(hitlab.ask("nobody hits it hard more often than Izezno", season).read_as)
    I read this as: does Nadia Izezno hit the ball hard more often per swing than anyone else?
    >>> print(hitlab.ask("Kanagane owns breaking balls", season).asks)
    2 hitters are called so: which?
    >>> print(hitlab.ask("Izezno is clutch", season).outcome)
    refused
    """
    given = nicknames_of(nicknames)
    if isinstance(table, Known):
        told = {fold(nick): name for nick, name in given.items()}
        known = replace(table, nicknames={**table.nicknames, **told}) if told else table
    else:
        known = Known.of(table, given)
    absent = none_of(season, known)
    if absent:
        return Asked(text=str(text), why=absent, pitches=known.table)
    named = season_named(str(text), known)
    season = named.season or season
    if named.why:
        return Asked(text=str(text), why=named.why, pitches=known.table)
    within = known.within(season)
    asked = _asked(named.rest, within)
    if named.asks and len(asked.readings) == 1:
        asked = replace(asked, asks=named.asks, readings=(), nearest=asked.readings[0])

    if asked.why == ONE_SEASON and len(known.seasons) > 1:
        asked = replace(asked, why=SEVERAL_SEASONS)

    def of_season(question: Question) -> Question:
        return replace(question, season=season, history=history) if season else question

    return replace(
        asked,
        text=str(text),
        readings=tuple(of_season(one) for one in asked.readings),
        nearest=None if asked.nearest is None else of_season(asked.nearest),
        pitches=known.table,
    )


def _asked(sentence: str, known: Known) -> Asked:
    asked = _understand(sentence, known)
    if asked.outcome == "understood":
        return asked
    back = turned(sentence, known, lambda rest: _asked(rest, known))
    return with_nearest(asked, sentence, known) if back is None else back


def _understand(sentence: str, known: Known) -> Asked:
    if not sentence.strip():
        return Asked(text=sentence, why=f"nothing was said; {example(known)}")
    if _CONTROL.search(sentence) or any(
        unicodedata.category(letter) in ("Cs", "Co") for letter in sentence[:2000]
    ):
        return Asked(
            text=sentence, why="there are characters in it that cannot be seen; type the sentence anew"
        )
    if len(sentence) > 20 * MOST_SPOKEN or len(sentence.split()) > MOST_SPOKEN:
        return Asked(
            text=sentence, why=f"it is longer than {MOST_SPOKEN} words; say one claim in one sentence"
        )
    text = Text.of(sentence)
    if not any(word.text.isalnum() for word in text.words):
        return Asked(text=sentence, why=f"there is no word in it; {example(known)}")
    again = _corrected(sentence, known)
    if again is not None:
        return again
    mockery = mocking(sentence)
    asked = read_whole(sentence, text, known)
    told = asked.outcome == "understood" or _MORE.search(asked.asks) or _LESS.search(asked.asks)
    if told and len(asked.choices) == 1 and _both_ways(sentence):
        offered = with_the_other_way(list(asked.choices))
        asks = "both more and less are said: which is meant?"
        if len(offered) > 1:
            return replace(asked, asks=asks, readings=tuple(offered), nearest=None)
        return replace(asked, asks=asks, readings=(), nearest=offered[0])
    if mockery is not None and mockery[1]:
        back = mocked(sentence, *mockery, known)
        return back if back.choices or asked.outcome == "understood" else asked
    if asked.outcome == "understood":
        return _place_asked(asked)
    for shorter, aside in asides(sentence, spoken_to(sentence, known.near)):
        again = read_whole(shorter, Text.of(shorter), known)
        if again.outcome == "understood" and not (_listed(again.question) and _SOMEBODY.search(aside)):
            return _place_asked(replace(again, text=sentence, left_out=(aside, *again.left_out)))
    if asked.outcome == "asked back":
        question = restated(sentence, known, lambda part: read_whole(part, Text.of(part), known).readings)
        if question is not None:
            read = Asked(text=sentence, readings=(question,))
            return of_two(read, read_slots(Text.of(sentence), known), question) or _place_asked(read)
    for without in repeats(sentence, known):
        again = _understand(without.rest, known)
        said = bool(again.choices) and all(map(without.said_by, again.choices))
        if said and (again.outcome == "understood" or _names_doubt(asked, again)):
            return replace(again, text=sentence, left_out=(without.left_out, *again.left_out))
    return in_pieces(asked, known)


def _names_doubt(asked: Asked, again: Asked) -> bool:
    """Say whether only what is left of a sentence names a doubt, and the whole what would play no part."""
    return again.outcome == "asked back" and bool(PARTLY.match(asked.asks)) and not PARTLY.match(again.asks)


_OF_HIM = re.compile(r"\b(off|against|from|to) (?:him|her)\b")
_NUMBER_ALONE = re.compile(r"(?:better|more|less|fewer|higher|lower|over|under|above|below)\b[^,;:]*")
_SHARE = re.compile(
    r"\b(?:[a-z]+|\d+) (?:[a-z]+ )?(?:out of|in|of) (?:every )?(?:[a-z]+|\d+)\s*$|[\d.]+%?\s*$"
)


def _corrected(sentence: str, known: Known) -> Asked | None:
    """Read what is said in the place of something else, of the one who was named."""
    told = corrected(sentence)
    if told is None:
        return None
    withdrawn, meant = told
    names = list(dict.fromkeys(named_in(withdrawn, known)))
    if _NUMBER_ALONE.match(meant) and _SHARE.search(withdrawn):
        meant = _SHARE.sub(meant, withdrawn)
    elif len(names) == 1 and not named_in(meant, known):
        of_him = _OF_HIM.sub(rf"\1 {names[0]}", meant)
        meant = of_him if of_him != meant else with_name(meant, names[0])
    asked = _understand(meant, known)
    if asked.outcome != "understood":
        return None
    return replace(asked, text=sentence, left_out=(withdrawn, *asked.left_out))


def _listed(question: Question) -> bool:
    """Say whether a list of hitters is asked for, and nobody of it is named."""
    return question.kind == "top" and not question.who


def mocked(sentence: str, mockery: str, rest: str, known: Known) -> Asked:
    """Ask back whether a sentence is meant or its opposite, and offer both."""
    text = Text.of(rest)
    told = read_whole(rest, text, known) if text.words else None
    questions: list[Question] = list(told.choices) if told is not None else []
    names = named_in(rest, known)
    if not questions and len(names) == 1 and _THROWN.search(mockery):
        # "Oh sure, throw him another fastball": he hits them hard.
        said = rest.replace(names[0], f"{names[0]} crushes", 1)
        questions = list(read_whole(said, Text.of(said), known).choices)
    offered = with_the_other_way(questions)[:MOST_CHOICES]
    asks = f"{quoted(mockery)} may turn it round: is it meant so, or the other way?"
    back = Asked(text=sentence, asks=asks, left_out=(mockery,))
    if len(offered) == 1:
        return replace(back, nearest=offered[0])
    return replace(back, readings=tuple(offered))


def with_the_other_way(questions: list[Question]) -> list[Question]:
    turned = [
        replace(one, direction="less" if one.direction == "more" else "more")
        for one in questions
        if one.kind in ("above", "ahead", "more", "split") and one.direction in ("more", "less")
    ]
    return [*questions, *(one for one in turned if one not in questions)]


def _both_ways(sentence: str) -> bool:
    """Say whether two degrees of opposite sense stand in a sentence: "more, I mean less"."""
    degrees = _SET_DEGREES.sub(" ", sentence)
    return bool(_MORE.search(degrees) and _LESS.search(degrees))


def _place_asked(asked: Asked) -> Asked:
    """Ask back what is only supposed, and a place alone at the head that was not read: "Up, she misses"."""
    only = supposed(asked.text)
    if only:
        asks = f"{quoted(only)} only supposes it: is it to be checked all the same?"
        return replace(asked, asks=asks, readings=(), nearest=asked.question)
    inning = _INNING_ALONE.search(asked.text)
    if inning and any(term.startswith("inning") for one in asked.readings for term in one.when):
        asks = f"{quoted(inning[0])}: of the innings of a game, or of the days of a month?"
        return replace(asked, asks=asks, readings=(), nearest=asked.question)
    place = _PLACE_ALONE.match(asked.text)
    if place is None or any(_PLACE_READ[place[1].casefold()] in one.when for one in asked.readings):
        return asked
    asks = f"is {quoted(place[1])} where the pitch is? Then say: on pitches {place[1].casefold()}"
    return replace(asked, asks=asks, readings=(), nearest=asked.question)


_SOMEBODY = re.compile(
    r"\b(?:guy|kid|man|woman|girl|boy|one|dude|player|hitter|bat|lady|fella|he|she)\b", re.IGNORECASE
)
_MORE = re.compile(r"\b(?:more|most|higher|highest)\b", re.IGNORECASE)
_LESS = re.compile(r"\b(?:less|least|fewer|fewest|lower|lowest)\b", re.IGNORECASE)
_SET_DEGREES = re.compile(
    r"\b(?:(?:less|fewer|more) than (?:an? |\d|one|two|three)\W?(?:outs?|strikes?|balls?|down|away)|"
    r"no (?:less|fewer|lower|more|higher) than|at (?:least|most)|than most|more or less|"
    r"with (?:fewer|less|more)\b(?! than)|"
    r"(?:not|never) (?:more|less|fewer|higher|lower)\b(?! than| often than))",
    re.IGNORECASE,
)
"""Degrees of a count or a number, which turn nothing round."""
_THROWN = re.compile(r"\b(?:throw|throwing|give|feed|pitch|hang)$", re.IGNORECASE)
_INNING_ALONE = re.compile(
    r"\b(?:from|since) the (?:first|second|third|fourth|fifth|sixth|[1-6](?:st|nd|rd|th)) on(?:ward)?s?\b"
    r"(?!.*\binning)",
    re.IGNORECASE,
)
"""Late in a game, from the seventh on, is said of innings; of an earlier number it may be a day."""
_PLACE_ALONE = re.compile(r"\s*(up|down|in|out|low|high)\s*(?:[,;:–—]|-\s)", re.IGNORECASE)
_PLACE_READ = {"up": "up", "high": "up", "down": "down", "low": "down", "in": "inside", "out": "away"}
