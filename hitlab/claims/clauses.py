"""What a claim says, in one clause that can be stated, doubted and denied: the grammar of its sentences."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Literal, NamedTuple, TypeAlias

from hitlab.counting.days import day_words, said_day
from hitlab.counting.events import EVENTS, Doing, base_of, event_words, per_words
from hitlab.counting.situations import situation
from hitlab.questions.question import CAREER
from hitlab.spoken import day_spoken, number_spoken, share_spoken
from hitlab.wording import Called, club_called

if TYPE_CHECKING:
    import pandas as pd

    from hitlab.claims.result import Claim
    from hitlab.questions.question import Question

__all__ = ["Clause", "Told", "Unanswered", "briefly", "clause_of"]

_ELSEWHERE = "in this situation"
"""Said in a headline for a situation of many words, which then stands beneath it."""

_HAVE = Doing("have", "has", "had", "having")
_LEAD = Doing("lead", "leads", "led", "leading")
_TRULY_LEAD = Doing(
    "truly lead", "truly leads", "truly led", "truly leading"
)  # of the rate behind the record
_SEE = Doing("see", "sees", "seen", "seeing")
_NEXT = {
    "whiff": (
        Doing("miss", "misses", "missed", "missing"),
        "{} on the next pitch",
        "misses on the next pitch",
    ),
    "swing": (
        Doing("swing", "swings", "swung", "swinging"),
        "{} at the next pitch",
        "swings at the next pitch",
    ),
    "take": (Doing("let", "lets", "let", "letting"), "the next pitch go {}", "next pitches let go"),
    "hard": (Doing("hit", "hits", "hit", "hitting"), "the next pitch hard {}", "next pitches hit hard"),
    "same kind": (_SEE, "the same kind of pitch again {}", "pitches of the same kind"),
}
"""By response: what somebody does with the next pitch, how that goes on, and its name."""


class Unanswered(NamedTuple):
    """What the grammar looks at of a claim that nobody has answered yet; attributes as in ``Claim``."""

    kind: str
    question: Question
    numbers: dict[str, Any]
    evidence: pd.DataFrame
    where: str = ""
    several_years: bool = False


Told: TypeAlias = "Claim | Unanswered"


@dataclass(frozen=True, slots=True)
class Clause:
    """One thing that is claimed of somebody.

    Attributes
    ----------
    subject
        Who it is said of.
    doing
        The verb; with ``is`` and nothing done, what the subject is stands in ``rest``.
    rest
        What follows the verb.
    topic
        The same without a verb, for a question: ``more hard-hit balls per swing than he has``.
    plural
        Whether the subject is many.
    tense
        ``does`` (hits), ``is`` (is hitting), ``has`` (has hit).
    opening
        What comes before the subject, with its colon.
    asked_of
        Of whom the question is, where that is not the subject.
    shorter
        The same in fewer words, where there are such.
    """

    subject: str
    doing: Doing | None
    rest: str
    topic: str
    plural: bool = False
    tense: Literal["does", "is", "has"] = "does"
    opening: str = ""
    asked_of: str = ""
    shorter: Clause | None = None

    @property
    def plain(self) -> str:
        """Stated without a doubt: ``she hits the ball hard``."""
        return self._said(self._finite())

    @property
    def likely(self) -> str:
        """Stated as most likely."""
        if self.tense == "does":
            return self._said(f"most likely {self._finite()}")
        return self._said(f"{self._helper} most likely {self._form}")

    @property
    def unlikely(self) -> str:
        """Denied as most likely not so."""
        first, second = (
            ("most likely", self._helper) if self.tense == "does" else (self._helper, "most likely")
        )
        return self._said(f"{first} {second} not {self._form}")

    @property
    def possible(self) -> str:
        """Stated as what may be."""
        helper = {"does": "may", "is": "may be", "has": "may have"}[self.tense]
        return self._said(f"{helper} {self._form}")

    @property
    def untold(self) -> str:
        """Left to what no table of pitches tells."""
        return f"{self.opening}this table cannot tell whether {replace(self, opening='').plain}"

    def asked(self, reply: str) -> str:
        """Return it as a question with its reply."""
        return f"{self.opening}{self.asked_of or self.subject}: {self.topic}? {reply}"

    @property
    def so_far(self) -> str:
        """Stated of the record, as it stands."""
        return self._in_the_record(False)

    @property
    def not_so_far(self) -> str:
        """Denied of the record."""
        return self._in_the_record(True)

    @property
    def so_far_untold(self) -> str:
        """Left open of the record."""
        return f"this table cannot tell whether {self.so_far}"

    def _in_the_record(self, denied: bool) -> str:
        no = " not" if denied else ""
        if self.tense == "is":
            return self._said(f"{self._helper}{no} {self._form}", "so far ")
        done = self.doing.done if self.doing else ""
        return self._said(f"{'have' if self.plural else 'has'}{no} {done}", "so far ")

    @property
    def _helper(self) -> str:
        many = {"does": "do", "is": "are", "has": "have"}
        return many[self.tense] if self.plural else self.tense

    @property
    def _form(self) -> str:
        """The form of the verb behind a helper."""
        if self.doing is None:
            return ""
        return {"does": self.doing.bare, "is": self.doing.now, "has": self.doing.done}[self.tense]

    def _finite(self) -> str:
        if self.tense == "does" and self.doing is not None:
            return self.doing.bare if self.plural else self.doing.third
        return f"{self._helper} {self._form}"

    def _said(self, verb: str, before: str = "") -> str:
        return f"{before}{self.opening}{self.subject} {verb.rstrip()} {self.rest}".strip()


class _Rate(NamedTuple):
    """A rate as something that somebody does so often."""

    doing: Doing
    object: str  # what of it is had, where no verb tells it
    counted: bool  # whether it is a count of the ledger, whose name is a noun
    nouns: str  # the event, many of it
    per: str
    many: str
    situation: str

    def more(self, less: bool) -> str:
        """Return a comparison, behind the verb."""
        return (
            self._compared("a lower", "fewer", "less") if less else self._compared("a higher", "more", "more")
        )

    def most(self, less: bool) -> str:
        """Return a superlative, behind the verb."""
        if less:
            return self._compared("the lowest", "the fewest", "least")
        return self._compared("the highest", "the most", "most")

    def _compared(self, rate: str, count: str, often: str) -> str:
        if self.object and not self.counted:
            return f"{rate} rate of {self.named}"
        many = f"{count} {self.object}" if self.object else f"{often} often"
        return f"{many} per {self.per}{self.situation}"

    def on(self, share: str) -> str:
        """Return how often it is done, behind the verb."""
        if self.object and not self.counted:
            return f"a rate of {self.named} of {share}"
        of = "" if share.split()[-1].isalpha() and "percent" not in share and "half" not in share else "of "
        # "Of pitches on pitches outside the zone" says it twice.
        where = self.situation.replace(f" on {self.many} ", " ", 1)
        return f"{self.object} on {share} {of}{self.many}{where}".lstrip()

    def topic(self, rest: str) -> str:
        """Return what is said of the rate without a verb."""
        return rest if self.object else f"{self.nouns} {rest}"

    @property
    def named(self) -> str:
        """The rate by its name, with the situation."""
        return f"{self.nouns} per {self.per}{self.situation}"

    def than(self, word: str) -> str:
        """Return the rate's name after a word: ``more hard-hit balls per swing``."""
        return f"{word} {self.named}"


def _rate(claim: Told) -> _Rate:
    """Return the rate that is asked of: its verb where its count has one, and the situation once."""
    event, per = str(claim.numbers["event"]), str(claim.numbers["per"])
    (base, there), (whole, where) = base_of(event), base_of(per)
    same = there == where  # "swings with two strikes per pitch with two strikes" says it twice
    nouns = event_words(base if same else event)
    one, many = (per_words(whole, number) + where for number in (1, 2))
    doing = EVENTS[base].does if base in EVENTS else None
    here = _spaced(_situation(claim))
    if doing is None:
        return _Rate(_HAVE, nouns, base in EVENTS, nouns, one, many, here)
    return _Rate(doing if same or not there else doing.with_object(there), "", True, nouns, one, many, here)


def _spaced(words: str) -> str:
    return f" {words}" if words else ""


def _situation(claim: Told) -> str:
    """Return the situation and the days, as they are said."""
    return claim.question.where(_day_in(claim)) or (_ELSEWHERE if claim.where == _ELSEWHERE else "")


def _season(claim: Told) -> str:
    """Return the season behind a rate or a choice; empty where none is asked for."""
    q = claim.question
    return _spaced(replace(q, when=(), since="", until="").where(str))


def _written(text: str) -> str:
    """Return a day without its year, as it is written: ``May 15``."""
    return said_day(text, lambda day: day_words(day).rpartition(",")[0])


def _day(text: str) -> str:
    return said_day(text, day_spoken)


def _day_in(claim: Told) -> Callable[[str], str]:
    """Return how a day is said: of a career and of games of several years with its year."""
    years = claim.several_years or claim.question.season == CAREER
    return (lambda text: f"{_day(text)}, {text[:4]}") if years else _day


class _Who(NamedTuple):
    """Whom a rate is said of, and those that it is compared with."""

    subject: str
    plural: bool
    others: str
    like: str  # before the name of another one


def _who(claim: Told) -> _Who:
    q = claim.question
    if q.subject == "club":
        return _Who(f"{q.who} hitters", True, "those of any other club", "those of ")
    least = int(claim.numbers.get("minimum", 0) or 0)
    base, inside = base_of(str(claim.numbers["per"]))
    such = "such " if inside else ""
    enough = f" with {least:,} {such}{per_words(base, 2)}" if least > 1 else ""
    if q.subject == "pitcher":
        return _Who(
            f"hitters facing {q.who}", True, f"those facing any other pitcher{enough}", "those facing "
        )
    team = f" of {club_called(q.club).name}" if q.club else ""
    return _Who(q.who, False, f"anyone else{team}{enough}", "")


def _called(claim: Told, name: str) -> Called:
    """Return what one of those that are asked about is called."""
    return club_called(name) if claim.question.subject == "club" else Called(name)


def _less(claim: Told) -> bool:
    return claim.question.direction == "less"


def _word(claim: Told) -> str:
    return "fewer" if _less(claim) else "more"


def _of_leads(claim: Told) -> Clause:
    who, rate, called = _who(claim), _rate(claim), _called(claim, claim.question.who)
    q, fullest = claim.question, "the fewest" if _less(claim) else "the most"
    topic = rate.than(f"of {club_called(q.club).name}, {fullest}" if q.club else fullest)
    kinds = {"pitcher": "regular pitchers", "club": "clubs"}
    field = f"the {kinds.get(q.subject, f'{club_called(q.club).bare} regulars'.strip())}"
    if _less(claim):
        rest = f"the lowest of {field} in {rate.named}"
        shorter = Clause(called.name, None, rest, topic, called.plural, "is", asked_of=q.who)
    else:
        lead = _LEAD if q.about == "record" else _TRULY_LEAD
        rest = f"{field} in {rate.named}"
        shorter = Clause(called.name, lead, rest, topic, called.plural, asked_of=q.who)
    rest = f"{rate.more(_less(claim))} than {who.others}"
    return Clause(who.subject, rate.doing, rest, topic, who.plural, shorter=shorter)


def _of_top(claim: Told) -> Clause:
    rate, q, top = _rate(claim), claim.question, int(claim.numbers["top"])
    if top == 1:  # the leader is asked for by another name
        return _of_leads(claim)
    kinds = {"pitcher": "pitchers against whom hitters", "club": "clubs whose hitters"}
    kind = kinds.get(q.subject, f"{club_called(q.club).bare} hitters who" if q.club else "who")
    rest = f"among the {number_spoken(top)} {kind} {rate.doing.bare} {rate.most(_less(claim))}"
    topic = f"{'bottom' if _less(claim) else 'top'} {number_spoken(top)} in {rate.named}"
    called = _called(claim, q.who)
    return Clause(called.name, None, rest, topic, called.plural, "is", asked_of=q.who)


def _of_above(claim: Told) -> Clause:
    who, rate = _who(claim), _rate(claim)
    if claim.question.above_league:
        rest = f"{rate.more(_less(claim))} than the rest of the league"
        topic = f"{rate.than(_word(claim))} than the league"
        return Clause(who.subject, rate.doing, rest, topic, who.plural)
    rest = rate.on(f"{_word(claim)} than {share_spoken(float(claim.numbers['value']))}")
    return Clause(who.subject, rate.doing, rest, rate.topic(rest), who.plural)


def _of_near(claim: Told) -> Clause:
    who, rate = _who(claim), _rate(claim)
    value, within = (float(claim.numbers[name]) for name in ("value", "within"))
    rest = rate.on(f"{100 * (value - within):.3g} to {100 * (value + within):.3g} percent")
    return Clause(who.subject, rate.doing, rest, rate.topic(rest), who.plural)


def _of_ahead(claim: Told) -> Clause:
    who, rate = _who(claim), _rate(claim)
    other = _called(claim, str(claim.numbers["other"])).name
    rest = f"{rate.more(_less(claim))} than {who.like}{other}"
    return Clause(who.subject, rate.doing, rest, f"{rate.than(_word(claim))} than {other}", who.plural)


def _of_split(claim: Told) -> Clause:
    who, rate, q = _who(claim), _rate(claim), claim.question
    inside = situation(*q.when).words if q.when else str(q.options.get("words", "")) or "in this situation"
    usual = q.options.get("against", "rest") == "usual"
    than = "the difference usual here would explain" if usual else "otherwise"
    whole = rate._replace(situation="")
    rest = f"{whole.more(_less(claim))} {inside} than {than}{rate.situation}"
    topic = f"{whole.than(_word(claim))} {inside}{', beyond the usual' if usual else ''}{rate.situation}"
    return Clause(who.subject, rate.doing, rest, topic, who.plural)


def _of_hot(claim: Told) -> Clause:
    who, rate = _who(claim), _rate(claim)
    games = int(claim.evidence["games"].iloc[-1])
    last = "in the last game" if games == 1 else f"over the last {number_spoken(games)} games"
    often = f"far more {rate.object or 'often'}"
    if not rate.counted:
        often = f"a far higher rate of {rate.nouns} per {rate.per}"
    rest = f"{often} than usual{rate.situation} {last}"
    topic = f"far more {rate.nouns}{_season(claim)} {last}"
    return Clause(who.subject, rate.doing, rest, topic, who.plural, "is")


def _of_steady(claim: Told) -> Clause:
    who, rate = _who(claim), _rate(claim)
    since = f" since {_day_in(claim)(claim.question.since)}" if claim.question.since else ""
    stay = Doing("stay", "stays", "stayed", "staying")
    rest = f"close to one rate of {rate.named}{since}"
    return Clause(who.subject, stay, rest, f"steady in {rate.named}{since}", who.plural, "has")


def _of_more(claim: Told) -> Clause:
    who, rate, q = _who(claim), _rate(claim), claim.question
    when = f"since {_day_in(claim)(q.since)}" if q.since else "now"
    than = "before" if q.since else str(q.options.get("than", "")) or "before"
    if q.direction == "either":
        change = Doing("change", "changes", "changed", "changing")
        rest = f"markedly in {rate.named} {when}" + ("" if than == "before" else f", against {than}")
        return Clause(who.subject, change, rest, f"changed {rest}", who.plural, "has")
    tense: Literal["does", "has"] = "has" if q.since else "does"
    topic = f"{rate.than(_word(claim))} {when}"
    return Clause(
        who.subject, rate.doing, f"{rate.more(_less(claim))} {when} than {than}", topic, who.plural, tense
    )


def _of_response(claim: Told) -> Clause:
    often = str(claim.numbers["direction"])
    doing, rest, nouns = _NEXT[str(claim.numbers["response"])]
    other = str(claim.evidence["record"].iloc[1])
    name = claim.question.who
    here = _spaced(_situation(claim))
    rest = f"{rest.format(f'{often} often')} after a miss than {other}{here}"
    topic = f"{'fewer' if often == 'less' else 'more'} {nouns} after a miss{here}"
    return Clause(name or "hitters", doing, rest, topic, not name)


def _of_together(claim: Told) -> Clause:
    first, second = (str(claim.numbers[name]) for name in ("first", "second"))
    here = _spaced(_situation(claim))
    high, topic = f"also high in {second}{here}", f"together{here}"
    return Clause(f"hitters high in {first}", None, high, topic, True, "is", "", f"{first} and {second}")


def _of_spot(claim: Told) -> Clause:
    many, name = int(claim.numbers["compared"]), claim.question.who
    rest, topic = f"the best choice of {number_spoken(many)}", f"the best of {number_spoken(many)}"
    if many == 2:
        table = claim.evidence["hitter"]
        other = str(table[table != claim.numbers["hitter"]].iloc[0])
        rest = topic = f"a better choice than {other}"
    season = _season(claim)
    here, opening = f", as they hit{season}" if season else "", f"{claim.numbers['spot']}: "
    if claim.where == _ELSEWHERE:
        here, opening = f" {_ELSEWHERE}", ""
    return Clause(name, None, f"{rest}{here}", f"{topic}{here}", tense="is", opening=opening)


_CLAUSES: dict[str, Callable[[Told], Clause]] = {
    "leads": _of_leads,
    "top": _of_top,
    "above": _of_above,
    "near": _of_near,
    "ahead": _of_ahead,
    "split": _of_split,
    "hot": _of_hot,
    "steady": _of_steady,
    "more": _of_more,
    "response": _of_response,
    "together": _of_together,
    "spot": _of_spot,
}


def clause_of(claim: Told) -> Clause:
    """Return what a claim says; in its topic, which is read and not said, days are written."""
    clause = _CLAUSES[claim.kind](claim)
    topic = clause.topic
    for text in (claim.question.since, claim.question.until):
        topic = topic.replace(_day(text), _written(text)) if text else topic
    return replace(clause, topic=topic)


def briefly(claim: Claim) -> Clause:
    """Return what a claim says with its situation and days told elsewhere."""
    q = claim.question
    # Where it parts the pitches, a first day is the claim, not its situation.
    since = q.since if q.of_kind.since_parts else ""
    q = replace(q, when=(), season="", history="ids", since=since, until="")
    return clause_of(replace(claim, where=_ELSEWHERE, question=q))
