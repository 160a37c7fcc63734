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
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Literal

import pandas as pd

from hitlab.asking.fit import Fitted, fit, lacking
from hitlab.asking.found import understood
from hitlab.asking.numbers import MONTHS
from hitlab.asking.order import out_of_order
from hitlab.asking.people import Known, nicknames_of
from hitlab.asking.phrases import FILLERS, MANNERS_OF_SPEAKING, ONE_SEASON, slot_words, vocabulary
from hitlab.asking.pieces import askable_pieces
from hitlab.asking.reading import asked_in_words
from hitlab.asking.repeats import repeats
from hitlab.asking.restating import named_in, restated, with_name
from hitlab.asking.risk import plain_word, risky
from hitlab.asking.seasons import SEVERAL_SEASONS, season_named
from hitlab.asking.slots import Slots, limit_of, people_of, read_slots
from hitlab.asking.soft import ENOUGH, Soft, differing
from hitlab.asking.talk import asides, corrected, mocking, spoken_to, supposed
from hitlab.asking.text import MOST_SPOKEN, Text
from hitlab.claims.result import Claim
from hitlab.errors import ClaimError
from hitlab.names import fold
from hitlab.questions.question import History, Question
from hitlab.results import Note, Part, Points, Result
from hitlab.showing import quoted, shown_name

__all__ = ["Asked", "ask"]

_MOST_CHOICES = 8
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069]")


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked(Result):
    """What was understood of a sentence.

    Attributes
    ----------
    text
        The sentence.
    readings
        The question that it asks; several where the choice is the user's, or can be asked in its place; none
        where it was not understood and nothing is offered.
    asks
        What is asked back; empty where nothing is.
    why
        Why it is refused: what cannot be asked of this table. Empty where it is not.
    nearest
        Of a sentence without a reading, the nearest question that can be asked, where there is one.
    left_out
        The words that play no part in what was understood, though they may carry meaning.
    taken
        Words that were taken for others, because they were typed nearly so: ``("brekaing", "breaking")``.
    usual
        Whether the rate was left to the trade's usual meaning: hard-hit balls per swing.
    heard
        Who is said to say it: hearsay is checked like any claim, and named for what it is.
    nearly
        Whether a yes is all that is asked for: one question is offered, and what plays no part in it is not
        known to carry meaning.
    found
        What was found in it, slot by slot (``who: Nadia Izezno``), whatever became of it.
    guessed
        Whether what is offered was made of these alone: no kind of claim fitted.
    pitches
        The table that is asked.
    """

    text: str
    readings: tuple[Question, ...] = ()
    asks: str = ""
    why: str = ""
    nearest: Question | None = None
    left_out: tuple[str, ...] = ()
    taken: tuple[tuple[str, str], ...] = ()
    usual: bool = False
    heard: tuple[str, ...] = ()
    nearly: bool = False
    found: tuple[str, ...] = ()
    guessed: bool = False
    pitches: Any = field(default=None, repr=False, compare=False)

    @property
    def outcome(self) -> Literal["understood", "asked back", "refused"]:
        """Say what became of the sentence."""
        if self.why:
            return "refused"
        return "understood" if len(self.readings) == 1 else "asked back"

    @property
    def choices(self) -> tuple[Question, ...]:
        """The questions that can be chosen: the readings, or where there are none the nearest."""
        return self.readings or (() if self.nearest is None else (self.nearest,))

    @property
    def question(self) -> Question:
        """The question, where there is only one.

        Raises
        ------
        ClaimError
            Where it was refused or has to be asked back; the choices are in the message.
        """
        return self._chosen(0)

    def _chosen(self, choice: int) -> Question:
        if choice == 0 and self.outcome == "understood":
            return self.readings[0]
        offered = self.choices
        if 1 <= choice <= len(offered):
            return offered[choice - 1]
        if choice:
            raise ClaimError(f"choice={choice}: there are {len(offered)} to choose from")
        listed = "; ".join(f"{number}: {_read(one)}" for number, one in enumerate(offered, start=1))
        raise ClaimError(f"{self.said}{f' Choose by choice=: {listed}' if listed else ''}")

    @property
    def read_as(self) -> str:
        """What the sentence was read as, in words, or what there is to choose from."""
        if self.outcome != "understood":
            return self.said
        told = "".join(f" (“{typed}” taken for “{meant}”)" for typed, meant in self.taken)
        usual = (
            " (the rate is the usual one, hard-hit balls"
            f"{' per swing' if self.readings[0].per == 'swings' else ''}, since none is named)"
            if self.usual
            else ""
        )
        heard = "".join(f" (“{who}”: hearsay; whether it is so is checked)" for who in self.heard)
        return f"I read this as: {_read(self.readings[0])}{usual}{told}{heard}"

    @property
    def said(self) -> str:
        """What is said back where there is no single reading."""
        if self.why:
            return f"This cannot be asked: {self.why}."
        return f"I have to ask back: {self.asks}" if self.asks else ""

    def answer(self, choice: int = 0) -> Claim:
        """Answer the question, or the one of the choices that has this number.

        Parameters
        ----------
        choice
            From 1, as :attr:`choices` are in order; 0 for the only one.

        Raises
        ------
        HitlabError
            Where there is more than one and none was chosen, or it cannot be answered.
        """
        return self._chosen(choice).ask(self.pitches)

    @property
    def title(self) -> str:
        """What was understood."""
        return self.read_as

    def contents(self) -> Iterable[Part]:
        """Return what was understood, what was left out, and the choices."""
        parts: list[Part] = [self.read_as]
        if self.found and self.outcome != "understood":
            parts.append(Note("; ".join(self.found), "understood of it"))
        if self.left_out:
            parts.append(Note(", ".join(shown_name(word) for word in self.left_out), "left out"))
        if self.outcome != "understood" and self.choices:
            lines = tuple(f"{number}: {_read(one)}" for number, one in enumerate(self.choices, start=1))
            parts.append(Points("What can be asked", lines))
        return parts

    def table(self) -> pd.DataFrame:
        """Return the choices as a frame: their numbers, kinds and words."""
        offered = self.choices
        return pd.DataFrame(
            {
                "choice": range(1, len(offered) + 1),
                "kind": [one.kind for one in offered],
                "question": [_read(one) for one in offered],
            }
        )


def _read(question: Question) -> str:
    return asked_in_words(question)


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
    named = season_named(str(text), known)
    season = named.season or season
    if named.why:
        return Asked(text=str(text), why=named.why, pitches=known.table)
    within = known.within(season)
    asked = _with_nearest(_understand(named.rest, within), named.rest, within)
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


def _understand(sentence: str, known: Known) -> Asked:
    if not sentence.strip():
        return Asked(text=sentence, why=f"nothing was said; {_example(known)}")
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
        return Asked(text=sentence, why=f"there is no word in it; {_example(known)}")
    again = _corrected(sentence, known)
    if again is not None:
        return again
    mockery = mocking(sentence)
    asked = _read_whole(sentence, text, known)
    told = asked.outcome == "understood" or _MORE.search(asked.asks) or _LESS.search(asked.asks)
    if told and len(asked.choices) == 1 and _both_ways(sentence):
        offered = _with_the_other_way(list(asked.choices))
        asks = "both more and less are said: which is meant?"
        if len(offered) > 1:
            return replace(asked, asks=asks, readings=tuple(offered), nearest=None)
        return replace(asked, asks=asks, readings=(), nearest=offered[0])
    if mockery is not None and mockery[1]:
        back = _mocked(sentence, *mockery, known)
        return back if back.choices or asked.outcome == "understood" else asked
    if asked.outcome == "understood":
        return _place_asked(asked)
    for shorter, aside in asides(sentence, spoken_to(sentence, known.near)):
        again = _read_whole(shorter, Text.of(shorter), known)
        if again.outcome == "understood" and not (_listed(again.question) and _SOMEBODY.search(aside)):
            return _place_asked(replace(again, text=sentence, left_out=(aside, *again.left_out)))
    if asked.outcome == "asked back":
        question = restated(sentence, known, lambda part: _read_whole(part, Text.of(part), known).readings)
        if question is not None:
            return _place_asked(Asked(text=sentence, readings=(question,)))
    for without in repeats(sentence, known):
        again = _understand(without.rest, known)
        said = bool(again.choices) and all(map(without.said_by, again.choices))
        if said and (again.outcome == "understood" or _names_doubt(asked, again)):
            return replace(again, text=sentence, left_out=(without.left_out, *again.left_out))
    return _in_pieces(asked, known)


_OPEN = re.compile(
    r"(?:more often )?than whom|what (?:is said )?of it|what is said|this names more than one|"
    r"which of the situations"
)
"""What is asked back where a sentence leaves open what is said: all that may be meant is offered."""
_TOLD_WHY = re.compile(
    r"(?:this (?:names|says) more than one|two are named|several days are named|the rates of a club are|"
    r".*\bcan(?:not)? be asked|.*: divided by what)"
)
"""What is asked back that says what stands in the way: no difference of two choices says it for it."""
_OTHER_DOUBT = re.compile(r"which rate:|hits it hard more often|best at what|nobody is named|than whom")
"""Asked back of what the soft slots have found."""
_PARTLY = re.compile(r".*would play no part")


def _names_doubt(asked: Asked, again: Asked) -> bool:
    """Say whether only what is left of a sentence names a doubt, and the whole what would play no part."""
    return again.outcome == "asked back" and bool(_PARTLY.match(asked.asks)) and not _PARTLY.match(again.asks)


_NOTHING = "nothing in it names"
_HARD_WHY = re.compile(
    r"nothing was said|there (?:are|is) |it is longer|the table's games|this table|situations and days|no day"
)
"""Refusals beside which nothing is offered: of the whole sentence, or of what the table lacks."""
_CLAUSE = re.compile(r"(?<=[.,!?;:–—…])\s+|\s+[–—-]\s+")
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


def _in_pieces(asked: Asked, known: Known) -> Asked:
    """Offer what the clauses of a sentence ask where nothing is offered of the whole."""
    if asked.choices:
        return asked

    def read(piece: str) -> Asked:
        text = Text.of(piece)
        return _read_whole(piece, text, known) if text.words else asked

    found = askable_pieces(
        asked.text,
        known,
        lambda piece: told.readings if (told := read(piece)).outcome == "understood" else (),
    )
    if not found:
        return asked
    if asked.why:
        return replace(asked, nearest=found[0])
    if len(found) == 1:
        asks = f"{asked.asks} What is offered is a part of what was said."
        return replace(asked, asks=asks, nearest=found[0])
    asks = "this says more than one thing, and each is a claim of its own: which?"
    return replace(asked, asks=asks, readings=tuple(found), nearest=None)


def _with_nearest(asked: Asked, sentence: str, known: Known) -> Asked:
    """Offer what the slots of a sentence that is not read make, each found on its own."""
    if asked.outcome == "understood" or not any(word.isalpha() for word in sentence.split()):
        return asked
    if asked.why:
        return _refused_with_nearest(asked, sentence, known)
    soft = Soft(sentence, known)
    near = [one for one in soft.questions() if not lacking([one], known)]
    told = asked.choices
    agreed = bool(near) and _key(near[0]) in map(_key, told)
    precise = not _OPEN.match(asked.asks) and (agreed or not _PARTLY.match(asked.asks))
    if not near or ((agreed or len(told) > 1) and precise):
        return asked
    # Told with the usual rate, though another is named in words that only the soft slots know.
    named = bool(told and soft.rates_named) and all(one.event == "hard" for one in told)
    named = named and soft.rates_named[0] != "hard"
    ahead = (*near, *told) if named else (*told[: ENOUGH - 1], *near)
    both = list({_key(one): one for one in ahead}.values())[:ENOUGH]
    if tuple(both) == told:
        return asked
    if len(both) == 1:
        return replace(asked, nearest=both[0], guessed=True)
    asks = asked.asks
    if not told or named:
        told_why = _TOLD_WHY.match(asks) or (asks.startswith("since which day") and not soft.since)
        doubt = "" if told_why else differing(*both[:2])
        asks = doubt or ("is it one of these?" if _OTHER_DOUBT.match(asks) else asks)
        asked = replace(asked, left_out=tuple(soft.left_of(near)))
    return replace(asked, asks=asks, readings=tuple(both), nearest=None, guessed=not asked.choices)


def _refused_with_nearest(asked: Asked, sentence: str, known: Known) -> Asked:
    """Offer what can be asked beside the clause that cannot; ask back where only the words were not known."""
    if asked.choices or _HARD_WHY.match(asked.why):
        return asked
    unknown = asked.why.startswith(_NOTHING)
    clauses = (
        [sentence]
        if unknown or asked.why in MANNERS_OF_SPEAKING
        else [part for part in _CLAUSE.split(sentence) if not limit_of(part, known)]
    )
    rest = ", ".join(clauses)
    if not rest.strip() or (not unknown and not named_in(rest, known)):
        return asked
    soft = Soft(rest, known)
    near = [one for one in soft.questions() if not lacking([one], known)] if soft.plain else []
    if not near:
        return asked
    if not unknown:
        return replace(asked, readings=tuple(near)) if len(near) > 1 else replace(asked, nearest=near[0])
    asks = differing(*near[:2]) if len(near) > 1 else ""
    asks = asks or "is it one of these?"
    back = replace(asked, why="", asks=asks, left_out=tuple(soft.left_of(near)), guessed=True)
    return replace(back, readings=tuple(near)) if len(near) > 1 else replace(back, nearest=near[0])


def _mocked(sentence: str, mockery: str, rest: str, known: Known) -> Asked:
    """Ask back whether a sentence is meant or its opposite, and offer both."""
    text = Text.of(rest)
    told = _read_whole(rest, text, known) if text.words else None
    questions: list[Question] = list(told.choices) if told is not None else []
    names = named_in(rest, known)
    if not questions and len(names) == 1 and _THROWN.search(mockery):
        # "Oh sure, throw him another fastball": he hits them hard.
        said = rest.replace(names[0], f"{names[0]} crushes", 1)
        questions = list(_read_whole(said, Text.of(said), known).choices)
    offered = _with_the_other_way(questions)[:_MOST_CHOICES]
    asks = f"{quoted(mockery)} may turn it round: is it meant so, or the other way?"
    back = Asked(text=sentence, asks=asks, left_out=(mockery,))
    if len(offered) == 1:
        return replace(back, nearest=offered[0])
    return replace(back, readings=tuple(offered))


def _with_the_other_way(questions: list[Question]) -> list[Question]:
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
    place = _PLACE_ALONE.match(asked.text)
    if place is None or any(_PLACE_READ[place[1].casefold()] in one.when for one in asked.readings):
        return asked
    asks = f"is {quoted(place[1])} where the pitch is? Then say: on pitches {place[1].casefold()}"
    return replace(asked, asks=asks, readings=(), nearest=asked.question)


def _example(known: Known) -> str:
    """Return a sentence that can be asked of a table, with somebody who is in it."""
    hitters = [person.label for person in known.people if person.subject == "hitter"]
    said = (
        f"nobody hits it hard more often than {hitters[0]}"
        if hitters
        else "the league misses more on sliders"
    )
    return f"say it in English, of hitters, pitchers or clubs of the table, such as: {said}"


def _read_whole(sentence: str, text: Text, known: Known) -> Asked:
    """Read a sentence of which nothing is talk beside the claim."""
    if not text.words:
        return Asked(text=sentence, why=f"there is no word in it; {_example(known)}")
    line = text.line()
    for nick, name in known.nicknames.items():
        if f" {nick} " in line and not known.find(nick):
            said = f"{quoted(nick)} is said to be {quoted(name)}, and nobody here is called so"
            return Asked(text=sentence, asks=f"{said}: whom do you mean?")
    slots = read_slots(text, known)
    taken: tuple[tuple[str, str], ...] = ()
    mended = _mended(sentence, slots)
    if mended:
        again = Text.of(mended[0])
        better = read_slots(again, known)
        if len(better.strange) < len(slots.strange):
            slots, taken = better, mended[1]
    return _result(sentence, slots, known, taken)


def _result(sentence: str, slots: Slots, known: Known, taken: tuple[tuple[str, str], ...]) -> Asked:
    strange = tuple(dict.fromkeys(slots.text.said[word.at] for word in slots.strange))
    strange = (slots.aside, *strange) if slots.aside else strange
    strange = (*slots.text.idle, *strange)
    base = Asked(
        text=sentence, left_out=strange, taken=taken, heard=tuple(slots.text.heard), found=understood(slots)
    )
    fitted = fit(slots, known)
    if slots.limit:
        offered_now = fitted.questions and slots.limit in MANNERS_OF_SPEAKING and slots.text.has("rate")
        nearest = fitted.questions[0] if offered_now else None
        return replace(base, why=slots.limit, nearest=nearest)
    near = _near_name(sentence, slots, known)
    if near is not None:
        return replace(near, text=sentence, left_out=strange, found=base.found)
    if fitted.why:
        return replace(base, why=fitted.why)
    if not fitted.asks and len(fitted.questions) == 1:
        bearers = _two_bearers(slots, fitted.questions[0], usual=fitted.usual)
        if bearers:
            hitter, *pitchers = (shown_name(one.who) for one in bearers)
            asks = f"{hitter}, who hits, or {' or '.join(pitchers)}, who pitches?"
            return replace(base, asks=asks, readings=tuple(bearers))
        jumbled = _jumbled(sentence, slots)
        if jumbled:
            return replace(base, asks=jumbled, nearest=fitted.questions[0])
        return replace(base, readings=tuple(fitted.questions), usual=fitted.usual)
    if _nothing_of_it(slots, fitted) and not fitted.asks.startswith("since which day"):
        return replace(base, why=f"{_NOTHING} what a table of pitches counts; {_example(known)}")
    offered = list(dict.fromkeys(_key(one) for one in fitted.questions))
    questions = [next(q for q in fitted.questions if _key(q) == key) for key in offered][:_MOST_CHOICES]
    asks = fitted.asks or "what is said of it?"
    if len(questions) == 1:
        return replace(base, asks=asks, nearest=questions[0], nearly=fitted.light)
    return replace(base, asks=asks, readings=tuple(questions))


def _jumbled(sentence: str, slots: Slots) -> str:
    """Say why words are no sentence though a question could be made of them; empty where they are one."""
    astray = out_of_order(sentence)
    if astray:
        told = ", ".join(f"“{word}”" for word in astray[:6])
        return f"{told} cannot stand so in a sentence: is this what was meant?"
    used = sum(word.text.startswith("<") for word in slots.text.words)
    if len(slots.strange) > used:
        told = ", ".join(f"“{slots.text.said[word.at]}”" for word in slots.strange[:6])
        return f"most of it would play no part ({told}): is this what was meant?"
    return ""


def _two_bearers(slots: Slots, question: Question, *, usual: bool) -> list[Question]:
    """Return a question of the hitter and of the pitcher of one surname, where both do what is said; or none.

    "Burgenzal walks too many": who bats walks, and who pitches walks others. "Velenzal is better on lefties":
    who pitches is better where hitters do less.
    """
    t = slots.text
    named = t.values("who")
    done = (
        usual
        or question.event in ("strikeouts", "walks")
        or (question.event == "whiffs" and any(_WHIFF_RATE.match(t.typed(one)) for one in t.words))
    )
    bat_only = ("pitcher=", "own", "other") if usual else ("pitcher_hand", "pitcher=", "own", "other")
    of_bat = t.has("per") or bool(_HITS.intersection(map(fold, t.said)))
    of_bat = of_bat or any(term.startswith(bat_only) for term in question.when)
    if (
        not done
        or of_bat
        or question.subject != "hitter"
        or question.kind not in _BOTH_ASK
        or len(named) != 1
    ):
        return []
    typed = fold(t.typed(next(word for word in t.words if word.text == "<who>")))
    pitchers = people_of(named[0], "pitcher")
    if not pitchers or fold(question.who).split()[-1] not in typed:
        return []
    pitched = replace(
        question,
        subject="pitcher",
        when=tuple(term.replace("pitcher_hand=", "hitter_side=") for term in question.when),
    )
    if usual and question.direction != "either":
        pitched = replace(pitched, direction="less" if question.direction == "more" else "more")
    return [question, *(replace(pitched, who=one.label) for one in pitchers)]


_WHIFF_RATE = re.compile(r"whiff(?:ing)? (?:rate|percent)", re.IGNORECASE)
"""What both have; who "whiffs" swings."""
_HITS = frozenset(("hitter", "batter", "bat", "stick", "plate", "slugger", "lineup"))
"""Words by which it is said of who bats."""
_BOTH_ASK = ("above", "leads", "more", "near", "split", "top")
"""Kinds of claim that are asked of hitters and of pitchers."""


def _key(question: Question) -> str:
    return repr(question.to_dict())


def _nothing_of_it(slots: Slots, fitted: Fitted) -> bool:
    """Say whether a sentence has nothing that could be asked: mostly words that nothing explains."""
    text, strange = slots.text, len(risky(slots.text, slots.strange))
    if fitted.questions or (
        slots.bare
        and (
            text.has("rate", "in", "hand", "owns", "hot")
            or (text.has("best", "steady") and not text.has("who"))
        )
    ):
        return False
    telling = [
        w
        for w in text.words
        if w.text.startswith("<") and w.text not in ("<who>", "<not>", "<whose>", "<than>")
    ]
    if text.has("who"):
        return strange >= 2 and (not text.has("rate", "owns", "hot", "steady") or strange > 2 * len(telling))
    return strange >= 1 and (not text.has("rate", "owns") or strange > len(telling))


def _near_name(sentence: str, slots: Slots, known: Known) -> Asked | None:
    """Ask back where a word that nothing explains is nearly a name, or stands where a name would."""
    if slots.text.has("who") and not any(
        known.near(word.text) for word in slots.strange if len(word.text) > 3
    ):
        return None
    if not any(word.text.startswith("<") for word in slots.text.words):
        return None
    said = slots.text.said
    lower = slots.text.has("whose", "nobody", "theleague", "who")
    for word in slots.strange:
        if len(word.text) < 4 or not word.text.isalpha() or word.text in _WORDS or plain_word(word.text):
            continue
        place = next(n for n, one in enumerate(slots.text.words) if one is word)
        first = slots.text.words[place - 1] if place else word
        named = first.value if first.text == "<who>" else ()
        if not named and not said[word.at][:1].isupper() and (lower or not sentence.islower()):
            continue
        near = known.near(word.text)
        begun = [one for one in near if any(part.startswith(word.text) for part in fold(one.label).split())]
        near = begun or [one for one in near if one.subject == "hitter"] or near
        if not near:
            continue
        slipped = [one for one in named if one in near and _slipped(word.text, one.label)]
        typed = f"{said[first.at]} {said[word.at]}"
        if len(slipped) == 1 and typed in sentence and said[word.at] not in slipped[0].label:
            # The first name tells who it is.
            again_said = sentence.replace(typed, slipped[0].label, 1)
            told = _read_whole(again_said, Text.of(again_said), known)
            return replace(told, taken=((said[word.at], slipped[0].label), *told.taken))
        if slots.text.has("who") and not said[word.at][:1].isupper():
            continue
        questions: list[Question] = []
        for person in near[:3]:
            again_said = sentence.replace(said[word.at], person.label, 1)
            again = Text.of(again_said)
            questions += _read_whole(again_said, again, known).choices
        names = ", ".join(shown_name(person.label) for person in near[:3])
        asks = f"nobody here is called {quoted(said[word.at])}; the nearest: {names}. Whom do you mean?"
        if len(questions) == 1:
            return Asked(text=sentence, asks=asks, nearest=questions[0], nearly=True)
        return Asked(text=sentence, asks=asks, readings=tuple(questions))
    if (
        not slots.text.has("who")
        and slots.strange
        and slots.text.has("rate", "owns", "hot", "steady", "different")
    ):
        first = slots.strange[0]
        if said[first.at][:1].isupper() and first.at <= 1:
            return Asked(
                text=sentence,
                asks=f"nobody here is called {quoted(said[first.at])}, nor nearly so: whom do you mean?",
            )
    return None


def _slipped(typed: str, label: str) -> bool:
    """Say whether a part of a name was typed with one slip, or two letters of it in the wrong order."""
    from rapidfuzz.distance import OSA

    return any(OSA.distance(part, typed, score_cutoff=1) == 1 for part in fold(label).split())


_SOMEBODY = re.compile(
    r"\b(?:guy|kid|man|woman|girl|boy|one|dude|player|hitter|bat|lady|fella|he|she)\b", re.IGNORECASE
)
_MORE = re.compile(r"\b(?:more|most|higher|highest)\b", re.IGNORECASE)
_LESS = re.compile(r"\b(?:less|least|fewer|fewest|lower|lowest)\b", re.IGNORECASE)
_SET_DEGREES = re.compile(
    r"\b(?:(?:less|fewer|more) than (?:an? |\d|one|two|three)\W?(?:outs?|strikes?|balls?|down|away)|"
    r"no (?:less|fewer|lower|more|higher) than|at (?:least|most)|than most|more or less|"
    r"with (?:fewer|less|more)\b(?! than))",
    re.IGNORECASE,
)
"""Degrees of a count or a number, which turn nothing round."""
_THROWN = re.compile(r"\b(?:throw|throwing|give|feed|pitch|hang)$", re.IGNORECASE)
_ORDINARY = frozenset(word for word in vocabulary() if len(word) >= 5) - FILLERS | {
    "pitch",
    "pitches",
    "hitters",
}
_WORDS = vocabulary()

_SHORTEST_SLIP = 6
_LEADS = ("against", "with", "when", "versus", "facing", "off", "on", "at", "in")
_PLACE_ALONE = re.compile(r"\s*(up|down|in|out|low|high)\s*(?:[,;:–—]|-\s)", re.IGNORECASE)
_PLACE_READ = {"up": "up", "high": "up", "down": "down", "low": "down", "in": "inside", "out": "away"}
_SHORT = 8  # words of an aside that may be a situation with a slip in it
_SLOT_WORDS = slot_words()
_HANDED = {"lefty", "lefties", "righty", "righties", "southpaw", "southpaws"}
_SAID_ASIDE = _WORDS | _HANDED | set(MONTHS)
"""Of what a situation or a day in an aside may consist."""
_LONG_TRADE = sorted(word for word in _WORDS - FILLERS if len(word) >= _SHORTEST_SLIP - 1)


def _mended(sentence: str, slots: Slots) -> tuple[str, tuple[tuple[str, str], ...]] | None:
    """Take a word that nothing explains for the word of the trade from which one slip of a finger parts it.

    A slip is two letters in the wrong order, one too many or one too few, behind the first letter. Another
    letter in place of one is none: it makes other words. Nor is an ending:
    "sliders are murder on her" has no verb of hers.
    """
    from rapidfuzz.distance import OSA

    taken = []
    for word in slots.strange:
        if len(word.text) < _SHORTEST_SLIP:
            continue
        near = [
            known
            for known in _ORDINARY
            if known[0] == word.text[0]
            and OSA.distance(known, word.text, score_cutoff=1) == 1
            and (len(known) != len(word.text) or sorted(known) == sorted(word.text))
            and known not in (f"{word.text}s", f"{word.text}es")
        ]
        if len(near) == 1:
            taken.append((slots.text.said[word.at], near[0]))
            sentence = sentence.replace(slots.text.said[word.at], near[0], 1)
    return (sentence, tuple(taken)) if taken else None
