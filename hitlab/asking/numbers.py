"""Numbers in a sentence: shares, places of a list, outs and counts, speeds, runs behind, and days."""

from __future__ import annotations

import calendar
import re
from datetime import datetime, timedelta
from typing import Any

from hitlab.asking.text import Text
from hitlab.counting.days import day_in
from hitlab.errors import ClaimError
from hitlab.spoken import ONES, ORDINALS, TENS, share_of

__all__ = ["ALWAYS", "FORTNIGHT", "MONTHS", "take_counts", "take_days", "take_places", "take_shares"]

ALWAYS = 0.9
"""What "always" is taken to say: on more than nine in ten."""

_WORTH = {word: number for number, word in enumerate(ONES, start=1)}
_WORTH |= {word: 10 * number for number, word in enumerate(TENS, start=2)} | {
    "a": 1,
    "an": 1,
    "no": 0,
    "zero": 0,
}
_SPELLED = rf"(?:(?:{'|'.join(TENS)}) (?:{'|'.join(ONES[:9])})|{'|'.join((*TENS, *reversed(ONES)))})"
_NUM = rf"(?:\d+(?:\.\d+)?|{_SPELLED})"
_SPEED = rf"(?:\d\d\d?|(?:eighty|ninety)(?: (?:{'|'.join(ONES[:9])}))?)"
_PARTS = "half|halves|thirds?|quarters?|fourths?|fifths?|sixths?|sevenths?|eighths?|ninths?|tenths?"
_Days = tuple[datetime, datetime] | None
FORTNIGHT = timedelta(days=13)
"""Before the last day: what "lately" is taken to say, about as long as twelve games."""
MONTHS = tuple(name.casefold() for name in calendar.month_name if name)
_MONTH = "|".join(MONTHS)


def whole(text: str) -> int | None:
    """Return a whole number that is spelled or in figures."""
    words = text.split()
    if all(word in _WORTH for word in words):
        return sum(_WORTH[word] for word in words)
    return int(text) if text.isdigit() else None


def _share(text: str) -> float | None:
    try:
        return share_of(text)
    except ClaimError:
        return None


def take_shares(text: Text) -> None:
    """Find rates, such as ``16 percent``, ``one swing in six``, ``.250``, and what is said of them."""
    noun = r"(?:swings?|pitches|pitch|balls?|at bats?|times?|of (?:his|her|their|its) swings)"
    timed = re.search(rf" {_NUM} times? (?:in|out of|of) ", text.line()) is not None
    text.take(
        rf"(?:give or take|plus or minus|within) (?P<n>{_NUM}) (?:points?|percent|percentage points?)"
        r"(?: (?:either (?:way|side)|up or down))?",
        "within",
        lambda m: (whole(m["n"]) or 0) / 100 or None,
    )
    if re.search(r" (?:rate|percentage) ", text.line()):
        text.reword(r"(above|over|under|below|about|around|near) (\d\d)(?= [.,?!]|$| $)", r"\1 \2 percent")
    text.take(rf"(?P<n>{_NUM}) ?(?:%|percent|per cent)", "value", lambda m: _share(f"{m['n']} percent"))
    text.take(r"(?P<n>\d+(?:\.\d+)?)%", "value", lambda m: _share(f"{m['n']}%"))
    text.take(r"(?P<n>0?\.\d+)", "average", lambda m: _share(m["n"]))
    text.take(r"(?P<n>\d+/\d+)", "value", lambda m: _share(m["n"]))
    text.take(
        rf"((?:out )?of (?:every |each )?(?P<below>{_NUM}) (?:swings|times))(?: [^,]*)? , "
        r"(?:about |roughly )?"
        rf"((?P<top>{_NUM})(?: of them)?)(?= )",
        "value",
        lambda m: _share(f"{m['top']} in {m['below']}"),
    )
    for what, per in (("pitch(?:es)?", "pitches"), ("at bats?", "at_bats")):
        # "One pitch in ten" says what it is divided by.
        text.take(
            rf"{_NUM} ({what})(?= (?:in|out of|of|out of every|in every) (?:every )?{_NUM} )", "per", per
        )
    text.take(
        rf"(?P<top>{_NUM})(?: {noun})? (?:in|out of|of|out of every|in every) (?:every "
        rf")?(?P<below>{_NUM})(?! strikes)(?= |$)",
        "value",
        lambda m: _share(f"{m['top']} in {m['below']}"),
    )
    text.take(
        rf"once (?:in )?(?:every|out of every|in) (?P<below>{_NUM})(?: swings| times)?(?= |$)",
        "value",
        lambda m: _share(f"1 in {m['below']}"),
    )
    text.take(
        rf"every (?P<nth>other|{'|'.join(ORDINALS[1:10])})(?: swing| time)(?= |$)",
        "value",
        lambda m: 1 / (2 if m["nth"] == "other" else _ordinal(m["nth"])),
    )
    text.take(
        rf"((?P<top>{_NUM})) <(?:in|per)> ((?:in|of|out of) (?:every )?(?P<below>{_NUM}))",
        "value",
        lambda m: _share(f"{m['top']} in {m['below']}"),
    )
    amount = rf"(?P<many>(?:{_NUM}|a|an) )?(?P<part>{_PARTS})"
    for pattern in (
        amount + r"(?= of | the time)",
        rf"(?<=than ){amount}(?= )",
        rf"(?<=over ){amount}(?= )",
        rf"(?<=about ){amount}(?= )",
        rf"(?<=roughly ){amount}(?= )",
        # "A quarter of the sliders", "half the sliders": what they are of has been taken already.
        rf"(?P<many>(?:{_NUM}|a|an) )(?P<part>{_PARTS})(?= <in> )",
        r"(?:(?<= at )|(?<= on )|(?<= miss )|(?<= misses )|(?<= missed ))(?P<many>)(?P<part>half)(?= <in> )",
    ):
        text.take(pattern, "value", lambda m: _share(f"{m['many'] or ''}{m['part']}".strip()))
    value = r"(?P<v><(?:value|average)>)"
    # "One time in six" is of the times already.
    of = "" if timed else r"(?: of the time| of time| of cases| the time)?"
    more = (
        r"(?:(?<!no )more than|higher than|better than|greater than|over|above|north of|upwards of|at "
        r"least|in excess of|well over|no (?:less|fewer|lower) than)"
    )
    less = (
        r"(?:(?<!no )less than|(?<!no )fewer than|(?<!no )lower than|worse than|under|below|"
        r"south of|at most|no more than|"
        r"not even|well under)"
    )
    near = (
        r"(?:about|around|roughly|some|nearly|close to|near|approximately|almost|exactly|just "
        r"about|right around)"
    )
    for words, mark in ((more, "above"), (less, "below"), (near, "near"), ("", "near")):
        prefix = f"{words} " if words else ""
        text.take(rf"{prefix}{value}{of}", mark, lambda m: _value_of(text, m))
    if text.has("near"):
        text.take(r"(?:or )?some(?:thing|where) (?:like|around|near) (?:that|it|there)|or thereabouts")
    _deny_even(text)


def _deny_even(text: Text) -> None:
    """Take "does not even swing at half of them" for less than half: the denial is of the number."""
    line = text.line()
    denied = r"(?:does|do|did|can|could|has|have|is|are) not"
    for pattern in (
        rf"{denied} even (?=(?:(?!and |but |than |<)[^ ,.;:]+ )*(?:<(?:in|hand|per|who)> "
        r"|[^ ,.;:<]+ )*<near> )",
        rf"{denied} (?=(?:[^ ,.;:<]+ )*even <near> )",
    ):
        if re.search(rf"(?<= ){pattern}", line) and len(text.places("near")) == 1:
            text.take(pattern)
            text.take("even(?= <near> )")
            for word in text.words:
                if word.text == "<near>":
                    text.respell(word, "<below>")
            return


def _value_of(text: Text, match: re.Match[str]) -> tuple[Any, str]:
    """Return the rate of a comparison, and whether it is a batting average: told by how it is written."""
    word = text.words[len(match.string[: match.start("v")].split())]
    return word.value, "average" if word.text == "<average>" else "value"


def take_places(text: Text) -> None:
    """Find places of a list and the fewest attempts: ``top five``, ``at least 400 swings``."""
    number = rf"(?P<n>{_NUM})"
    text.take(
        r"(?:(?:among|of|for) (?:all )?(?:the )?(?:hitters|batters|those|players) )?"
        r"(?:with )?(?:at least|a minimum of|minimum of|minimum|no fewer than) (?P<n>\d+) "
        r"(?P<what>swings|pitches|at bats|"
        r"plate appearances|balls in play|contacts)",
        "minimum",
        lambda m: (int(m["n"]), m["what"]),
    )
    text.take(
        r"(?:(?:among|of) )?(?:(?:those|all|hitters|everyone|everybody|anyone) )*(?:(?:who have|"
        r"having|with) )?"
        r"(?:(?:at least|minimum of|minimum|over|more than) )?(?P<n>\d+) (?P<what>swings|pitches|at bats|"
        r"plate appearances|balls in play|contacts) (?:or more|and up|or better|and more|minimum|at least)",
        "minimum",
        lambda m: (int(m["n"]), m["what"]),
    )
    noun = r"(?: (?:hitters?|batters?|pitchers?|players?|clubs?|teams?|guys?|bats?|arms?|sticks?))?"
    text.take(rf"(?:in |among |a |is a )?(?:the )?top {number}{noun}", "top", lambda m: whole(m["n"]))
    text.take(rf"(?:in |among )?(?:the )?bottom {number}{noun}", "bottom", lambda m: whole(m["n"]))
    text.take(
        rf"(?:one of|among|one among|in) the (?:league )?{number}(?= (?:hitters?|batters?|"
        rf"pitchers?|clubs?|players?|guys|best|worst|"
        r"<who>|who|to |in the league|at |for |leaders|frequent|most|least|toughest|hardest|"
        r"easiest|highest|lowest|fewest|better|finest|biggest|largest|hardest|freest|steadiest))",
        "top",
        lambda m: whole(m["n"]),
    )
    text.take(
        rf"(?:only|just|no more than) (?:{_NUM} or )?{number} (?:other )?(?:hitters?|batters?|pitchers?|"
        rf"clubs?|players?|guys|others?|teams?)",
        "onlyn",
        lambda m: whole(m["n"]),
    )
    text.take(
        r"(?:only|just|exactly|no more than|at most|at least|more "
        rf"than|fewer than) (?P<n>{_NUM}) (?:of the )?(?=<who> )",
        "manyof",
        lambda m: whole(m["n"]),
    )
    text.take(
        r"(?:(?:is|ranks?|sits?|stands?|comes? in) "
        rf")?(?P<n>{'|'.join(ORDINALS[1:20])})(?: (?:best|highest|most|place))?"
        rf" (?:in|of|on) (?:the|this|our) (?:whole |entire |dang |darn |damn )*(?=(?:league|club|team) )",
        "place",
        lambda m: _ordinal(m["n"]),
    )
    text.take(
        rf"(?:(?:over|in|during|for|across|through) )?(?:the|his|her|these|those) (?:last|"
        rf"past) {number} games",
        "stretch",
        lambda m: whole(m["n"]) or None,
    )


def take_counts(text: Text) -> None:
    """Find strikes, balls, outs, innings, speeds and runs behind, with their numbers."""
    pre = (
        r"(?:(?:when|if) (?:(?:he|she|there) (?:is|are|has|gets) )?)?(?:(?:with|on|in|at|down to|"
        r"by|after) )?(?:(?:the|a|an) )?"
    )
    told = r"(?P<n>no|zero|one|two|three|\d)"

    def term(column: str) -> object:
        def found(m: re.Match[str]) -> tuple[str] | None:
            many = whole(m["n"])
            return (f"{column}={many}",) if many is not None and many <= _MOST[column] else None

        return found

    text.take(
        pre + r"(?P<b>[0-3])-(?P<s>[0-2])(?: counts?| pitch(?:es)?)?",
        "in",
        lambda m: {"3-2": ("full count",), "0-0": ("first pitch",)}.get(
            f"{m['b']}-{m['s']}", (f"balls={m['b']}", f"strikes={m['s']}")
        ),
    )
    text.take(
        pre + told + r" strikes?(?: on (?:him|her|them))?(?: counts?| pitch(?:es)?)?", "in", term("strikes")
    )
    text.take(pre + told + r" balls(?= (?:and|on|,))", "in", term("balls"))
    led = r"(?:with|on|at|in|down to) "
    text.take(led + told + r" balls?(?= (?:than|<than>|<otherwise>|[?.!])| ?$)", "in", term("balls"))
    text.take(pre + r"(?:nobody|no one|none) out(?! there)", "in", ("outs=0",))
    text.take(
        pre + r"(?P<n>no|zero|one|two|[012]) (?:outs?|down|away)(?! of)(?! in the)(?= )", "in", term("outs")
    )
    text.take(
        rf"(?:anything |pitches |pitch |against |of |on |with |at )*(?P<n>{_SPEED}) ?(?:mph |miles "
        r"an hour |miles per hour )?"
        r"(?:(?:and|or|plus) (?:up|above|better|faster|more|over|harder|north)|plus)",
        "in",
        lambda m: (f"speed_mph>={whole(m['n'])}",),
    )
    text.take(
        r"(?:anything |pitches |pitch |against |of |on |with |at |velocity )*(?:over|above|at "
        r"least|faster than|harder than|north of) "
        rf"(?P<n>{_SPEED})(?: mph| miles an hour| miles per hour)",
        "in",
        lambda m: (f"speed_mph>={whole(m['n'])}",),
    )
    text.take(
        r"(?:anything |pitches |pitch |against |of |on |with |at |velocity )*(?:under|below|slower than) "
        rf"(?P<n>{_SPEED})(?: mph| miles an hour| miles per hour)",
        "in",
        lambda m: (f"speed_mph<={whole(m['n'])}",),
    )
    if not re.search(" (?:rate|percentage|average|percent) ", text.line()):
        text.take(
            r"(?:(?:on|at|against|off) )?(?:anything|stuff|pitches|heat) (?:over|above|north of|faster than) "
            rf"(?P<n>{_SPEED})(?= (?!percent|of |in |out |times|points|\d|and |or )| $)",
            "in",
            lambda m: (f"speed_mph>={whole(m['n'])}",) if (whole(m["n"]) or 0) >= _SLOWEST else None,
        )
    runs = r"(?: runs?)?"
    text.take(
        rf"(?:<club> )?(?:are |is )?(?:down|trailing|trailing by|trails by|behind|behind by|down "
        rf"by) (?:by )?(?P<n>a|{_NUM}){runs}(?= (?!strike))",
        "gap",
        lambda m: whole(m["n"]),
    )
    order = "|".join(ORDINALS)
    text.take(
        rf"(?:, )?(?:(?:from |after |in )(?:the )?(?P<n>{order}|\d+(?:st|nd|rd|th)) (?:inning )?|"
        rf"(?:the )?(?P<m>{order}|\d+(?:st|nd|rd|th)) inning )(?:on|onward|onwards|and later|or later)"
        r"(?= |$)",
        "in",
        lambda m: _inning(">=", m["n"] or m["m"]),
    )
    text.take(
        rf"(?:in |of )?(?:the )?(?P<n>{order}|\d+(?:st|nd|rd|th)) inning|in the (?P<m>{order})"
        r"(?= (?:[<,.?!;:]|and |with |when |than |on |against )| $)",
        "in",
        lambda m: _inning("=", m["n"] or m["m"]),
    )


_SLOWEST = 80
"""Miles an hour that may be meant where none are told: "anything over 95"."""
_MOST = {"strikes": 2, "balls": 3, "outs": 2, "inning": 40}
"""What a count can be at most; a number beyond it is no situation."""


def _inning(sign: str, text: str) -> tuple[str] | None:
    number = _ordinal(text)
    return (f"inning{sign}{number}",) if 1 <= number <= _MOST["inning"] else None


def _ordinal(text: str) -> int:
    return ORDINALS.index(text) + 1 if text in ORDINALS else int(re.sub(r"\D", "", text))


def take_days(text: Text, days: _Days) -> None:
    """Find days and spans: ``since May 15``, ``in May and June``, ``in the last two weeks``, ``so far``.

    A day that the calendar does not have stays a word, and so nothing is answered past it.
    """
    years = list(range(days[0].year, days[1].year + 1)) if days else []
    order = "|".join(ORDINALS)
    number = rf"(?:\d\d?(?:st|nd|rd|th)?|(?:twenty |thirty )?(?:{order})|thirtieth)"
    month = rf"(?P<month>{_MONTH})"
    say = r"(?:, )?(?:say |about |around )?(?:, )?"
    day = (
        rf"(?:{say}(?P<iso>\d{{4}}-\d\d-\d\d|\d\d?/\d\d?)|(?:the )?(?P<week>first|second|third|fourth|last) "
        r"week (?:of|in) (?:the )?"
        rf"{month.replace('month', 'month6')}|(?:the )?(?P<edge>end|start|beginning|middle|midpoint) of "
        rf"(?:the )?{month}|"
        rf"(?P<mid>mid|early|late) {month.replace('month', 'month2')}|{say}(?:the "
        rf")?(?P<n>{number}) (?:(?:day )?of )?{month.replace('month', 'month3')}|"
        rf"{say}{month.replace('month', 'month4')} (?:the )?(?P<n2>{number})(?: ,)?(?: "
        rf"(?P<year>\d{{4}}))?|{month.replace('month', 'month5')}(?: (?:began|started|came|1st|"
        r"arrived|opened|rolled around|came around|came in|got here))?)"
    )
    since = (
        r"(?:ever since|since|starting|from|beginning(?: in| on)?)(?: about| around| roughly| right around)?"
    )

    def found(m: re.Match[str]) -> str | None:
        return _day(m, years, days=days)

    told = rf"(?:(?:the )?{number} (?:of )?(?:{_MONTH})|(?:{_MONTH}) (?:the )?{number})"
    text.take(
        rf"(?:(?:from|between|in|for|over) )?(?P<first>{told}|(?:the )?{number}) (?:to|through|until|"
        rf"till|and) "
        rf"(?P<last>{told}|(?:the )?{number})(?= [^ ]|$| $)",
        "span",
        lambda m: _days_told(m, years),
    )
    text.take(
        rf"(?:from|between) {month} (?:to|and|through) {month.replace('month', 'other')}",
        "span",
        lambda m: _span(m, years),
    )
    if days:
        whole_table = (f"{days[0]:%Y-%m}", f"{days[1]:%Y-%m}")
        text.take(
            rf"{month} (?:to|through|until|till) {month.replace('month', 'other')}",
            "allyear",
            lambda m: True if tuple(day[:7] for day in _span(m, years) or ()) == whole_table else None,
        )
    text.take(
        rf"(?:in|during|over|throughout|for|through) (?:all of |the months of )?(?P<months>(?:{_MONTH})"
        rf"(?:(?: ,)? (?:{_MONTH}))*(?: ,)? and (?:{_MONTH}))(?! \d)",
        "span",
        lambda m: _months(m["months"], years),
    )
    text.take(
        rf"than (?:(?:he|she|it|they) )?(?:(?:did|does|had|has|was|were) )?(?:been )?(?=(?:before|"
        rf"prior to) {day})",
        "before",
    )
    text.take(rf"(?<=<before> )(?:before|prior to) {day}", "since", found)
    text.take(rf"{since} {day}(?: on| onward| onwards| forward)?(?= |$)", "since", found)
    # Behind a week or a part of a month it would have to be its end.
    numbered = ("n", "n2", "iso")
    text.take(
        rf"(?:after|past) {day}(?= |$)", "since", lambda m: found(m) if any(map(m.group, numbered)) else None
    )
    if text.has("since"):
        told_before = text.values("since")
        text.take(rf"(?<=<since> ), {day}(?: ,)?", "", lambda m: True if found(m) in told_before else None)
    elif re.search(r" (?:since|different hitter|changed) ", text.line()):
        text.take(rf"on {day}", "since", found)
        text.take(r"(?:ever )?since(?= ,| \.| $)")
    text.take(rf"(?:until|till|up to|through) {day}", "until", lambda m: _day(m, years, last=True, days=days))
    text.take(
        r"(?:in|during|over|throughout|for) (?:the )?(?P<week>first|second|third|fourth|last) week of "
        rf"{month}",
        "span",
        lambda m: _week(found(m)),
    )
    text.take(
        rf"(?:in|during|over|throughout|for) (?:all of |the month of )?{month}",
        "span",
        lambda m: _span(m, years),
    )
    if days:
        last = days[1]
        told = (
            rf"(?:(?:over|in|during|for|across|through) )?(?:the|this|these) (?:last|past) (?P<n>{_NUM} "
            rf")?(?P<unit>days?|weeks?|months?|fortnight)(?! of (?:{_MONTH}))"
        )

        def back(m: re.Match[str]) -> str | None:
            many = whole(m["n"].strip()) if m["n"] else 1
            if not many:
                return None
            each = {"d": 1, "w": 7, "m": 30, "f": 14}[m["unit"][0]]
            # Beyond the first day there is nothing, however many are told.
            many = min(many * each, (last - days[0]).days + 1) if days else many * each
            return f"{last - timedelta(days=many - 1):%Y-%m-%d}"

        text.take(told, "since", back)
    text.take(
        r"(?:so far|to date|as of (?:today|now)|up to now|until now|on the (?:season|year)|this "
        r"(?:season|year)|at the moment|at present|by the record(?: alone| as it stands)?|on today is list|"
        r"on todays list|(?:the|his|her) record (?:says|shows)(?: it| so| that)?|on the record|currently)"
        r"(?: (?:this|the) (?:season|year))?",
        "record",
    )
    text.take(
        r"(?:all|the whole|the entire) (?:season|year)(?: long)?|all (?:season|year) long|"
        r"throughout the (?:season|year)",
        "allyear",
    )


def _day(m: re.Match[str], years: list[int], *, last: bool = False, days: _Days = None) -> str | None:
    told = m.groupdict()
    if told.get("iso"):
        return _iso(str(told["iso"])) if "-" in told["iso"] else _slashed(str(told["iso"]), days)
    month = next(
        (
            told[name]
            for name in ("month", "month2", "month3", "month4", "month5", "month6")
            if told.get(name)
        ),
        None,
    )
    if month is None:
        return None
    number = told.get("n") or told.get("n2")
    try:
        if told.get("week") == "last":
            date = day_in(month, years, last=True) - timedelta(days=6)
        elif told.get("week"):
            date = day_in(month, years) + timedelta(days=7 * ORDINALS.index(str(told["week"])))
        elif number:
            date = day_in(f"{month} {_of_month(number)} {told.get('year') or ''}".strip(), years)
        elif told.get("mid") in ("early", "late"):
            return None
        elif told.get("edge") == "end":
            # Since the end of April is since the first of May.
            date = day_in(month, years, last=True) + timedelta(days=0 if last else 1)
        elif told.get("edge") in ("middle", "midpoint") or told.get("mid") == "mid":
            date = day_in(f"{month} 15", years)
        elif last and not m[0].startswith("through"):
            # Until May is until the last of April.
            date = day_in(month, years) - timedelta(days=1) if not told.get("edge") else day_in(month, years)
        else:
            date = day_in(month, years, last=last)
    except ClaimError:
        return None
    return f"{date:%Y-%m-%d}"


def _week(day: str | None) -> tuple[str, str] | None:
    """Return the first and the last day of a week."""
    return None if day is None else (day, f"{datetime.fromisoformat(day) + timedelta(days=6):%Y-%m-%d}")


def _iso(text: str) -> str | None:
    """Return a day that the calendar has."""
    try:
        return f"{datetime.strptime(text, '%Y-%m-%d'):%Y-%m-%d}"
    except ValueError:
        return None


def _slashed(text: str, days: _Days) -> str | None:
    """Return the one day of the table that ``5/20`` can be, whether the month or the day is said first."""
    one, other = text.split("/")
    years = {day.year for day in days or ()}
    told = {_iso(f"{year}-{m:0>2}-{d:0>2}") for year in years for m, d in ((one, other), (other, one))}
    within = [day for day in told if days and day and f"{days[0]:%Y-%m-%d}" <= day <= f"{days[1]:%Y-%m-%d}"]
    return within[0] if len(within) == 1 else None


def _of_month(text: str) -> int:
    digits = re.sub(r"\D", "", text)
    if digits:
        return int(digits)
    *tens, one = text.split()
    if one == "thirtieth":
        return 30
    return {"twenty": 20, "thirty": 30}.get(tens[0] if tens else "", 0) + ORDINALS.index(one) + 1


def _months(listed: str, years: list[int]) -> tuple[str, str] | None:
    """Return the first and the last day of months that follow each other; none where one is left out."""
    months = re.findall(rf"\b(?:{_MONTH})\b", listed)
    numbers = [MONTHS.index(month) for month in months]
    if numbers != list(range(numbers[0], numbers[0] + len(numbers))):
        return None
    try:
        first, last = day_in(months[0], years), day_in(months[-1], years, last=True)
    except ClaimError:
        return None
    return f"{first:%Y-%m-%d}", f"{last:%Y-%m-%d}"


def _days_told(m: re.Match[str], years: list[int]) -> tuple[str, str] | None:
    """Return the days of ``the second of May through the sixteenth``; the month is told at least once."""
    months = re.findall(rf"\b(?:{_MONTH})\b", f"{m['first']} {m['last']}")
    if not months:
        return None
    told = [re.sub(rf"\b(?:the|of|{_MONTH})\b", "", m[day]).strip() for day in ("first", "last")]
    try:
        days = [
            day_in(f"{month} {_of_month(number)}", years)
            for month, number in zip((months[0], months[-1]), told, strict=True)
        ]
    except ClaimError:
        return None
    return (f"{days[0]:%Y-%m-%d}", f"{days[1]:%Y-%m-%d}") if days[0] <= days[1] else None


def _span(m: re.Match[str], years: list[int]) -> tuple[str, str] | None:
    try:
        first = day_in(m["month"], years)
        last = day_in(m.groupdict().get("other") or m["month"], years, last=True)
    except ClaimError:
        return None
    return f"{first:%Y-%m-%d}", f"{last:%Y-%m-%d}"
