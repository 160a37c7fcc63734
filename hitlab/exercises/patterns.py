"""Patterns that tell what a learner's sentence says: who, how many, how sure; and what is too much.

They are plain: words and figures in any order, in small letters, without accents. A sentence that means it in
words that no pattern has is told what is missing, and its writer says it plainer, as one does for the air.
"""

from __future__ import annotations

import re
import unicodedata

from hitlab.exercises.definitions import TooMuch
from hitlab.spoken import ONES, TENS
from hitlab.wording import rate_text

__all__ = [
    "ASKED",
    "CAUSE",
    "CHANCE",
    "DOUBT",
    "HARD_HIT",
    "LIKELY",
    "NO_LUCK",
    "SURE_WORDS",
    "TURNED",
    "as_read",
    "chances_in",
    "clause_with",
    "makes_likely",
    "makes_unlikely",
    "name",
    "number",
    "on_the_list",
    "rate",
    "share",
    "swings_of",
    "takes_first_for_best",
    "too_much_in",
    "turned_over",
]

_PER_CENT = r"(?: ?%| per ?cent\b)"
_DENIAL = re.compile(r"\b(?:not|no|never|nobody|nothing|cannot|without|nor|neither|hardly|far from)\b|n't\b")
_NEAR_SIMPLE = 0.15  # by which a rate may differ from one in so many, as a share of it
_UNSEEN = ("Mn", "Me", "Cf")  # accents, and signs of no width
_PLAIN_SIGNS = str.maketrans("’‘´`‐‑‒–—−“”„«»", '\'\'\'\'------"""""')
_CLAUSE = re.compile(r"[.,;:!?](?= |$)")  # no denial reaches beyond
_THOUSANDS = re.compile(r"(?<=\d),(?=\d{3}(?!\d))")  # no comma between clauses
_ASIDE = re.compile(r", ((?:of|out of|among|from) [^,.;:!?]{3,40}),")  # "that, of 103 regulars, she is"
_MOST_OF_A_CLAUSE = 120  # characters before what a clause says
_REACH = 5  # words within which a denial turns round what follows

LIKELY = (
    r"\b(?:im)?probab",
    r"\b(?:un)?likel(?:y|ier|iest|ihood)\b",
    r"\bodds\b",
    r"\bin (?:ten|ten chances|a hundred|10|100)\b",
    r"\bsure\b",
    r"\b(?:almost|nearly|practically|virtually|quite) (?:certain(?:ly)?|surely)\b",
    r"\blong shot\b",
)
"""How sure something is, in words that are about nothing else."""

CHANCE = (rf"\b\d[\d.]*{_PER_CENT}", r"\bchances?\b", *LIKELY)
"""How sure something is: a chance in words or figures."""

DOUBT = (
    r"\bopen\b",
    r"\b(?:cannot|can not|can't|could not|couldn't|do not|don't) (?:yet )?"
    r"(?:say|tell|settle|be (?:said|told|sure|settled)|know)",
    r"\b(?:nobody|no one|none(?: of us)?) (?:can|could) (?:yet )?(?:say|tell|know)\b",
    r"\bnobody knows\b",
    r"\b(?:not|no|isn't) (?:yet )?(?:\w+ )?(?:enough|sure|clear|settled?|certain|known)\b",
    r"\bdo(?:es)? ?n[o']t (?:yet )?(?:tell|say|show|settle|mean)",
    r"\bnothing (?:is )?(?:yet )?settled?\b",
    r"\b(?:far )?from (?:sure|certain|settled|clear)\b",
    r"\b(?:unsettled|uncertain|undecided|unclear|unproven)\b",
    r"\btoo (?:early|few|little|soon|small|close)\b",
    r"\b(?:may|might|could) (?:well |not )?(?:be|have been)\b",
    r"\b(?:maybe|perhaps|possibly)\b",
    r"\bdoubt(?:s|ful|ed)?\b",
    r"\b(?:would not|wouldn't|would n't|do not|don't) (?:swear|bet|stake|bank)\b",
    r"\b(?:remains? to be seen|wait and see)\b",
    r"\b(?:another|a different|a separate) (?:question|matter|story)\b",
    r"\bup in the air\b|\btoss-?up\b|\bcoin(?:[- ](?:flip|toss))?\b|\bjury\b|\bgrain of salt\b",
    r"\b(?:no|little|weak|thin) (?:\w+ )?evidence\b|\bevidence (?:is|looks) (?:thin|weak|slim)\b",
)
"""That something is not settled."""

SURE_WORDS = (
    TooMuch(
        r"(?<!almost )(?<!nearly )(?<!quite )\b(?:definitely|certainly|undoubtedly|absolutely|guaranteed?|"
        r"no doubt|without (?:a |any )?doubt|"
        r"beyond (?:a |any )?doubt|for sure|100 ?(?:%|per ?cent))",
        "that is surer than any sample is",
    ),
    TooMuch(r"\b(?:proves?|proved|proven|proof)\b", "that claims a proof, and a sample gives chances"),
    TooMuch(
        r"(?<!somebody )(?<!someone )\b(?:always|never (?:miss|fail|whiff|strike)\w*)\b",
        "that says more than any record does",
    ),
)
"""What no sentence about a sample may say."""

HARD_HIT = (
    r"\bhard(?! to\b(?! (?:our|the|my|us|me)\b))",
    r"\b(?:hit|hits|hitting|struck) (?:it |them |the ball )?well\b",
    r"\bwell[- ](?:hit|struck)\b",
)
"""That hard-hit balls were counted."""

CAUSE = TooMuch(
    r"\b(?:thanks to|due to|owing to|because of (?!(?:the )?(?:luck|chance|few|small))|"
    r"(?:because|since|(?<!\bas far apart )(?<!\bas wide )(?<!\bas often )(?<!\bas high )as) "
    r"(?:she|he|they|pitchers) (?!(?:was|is|were) (?:only |just )?(?:found|picked|chosen|taken|pulled) "
    r"(?:among|from|out|of)\b)\w+|"
    r"(?:because|since|as) (?:her|his|their) (?!swings|record|rate|true)\w+|"
    r"slump\w*|tired|injur\w*|(?:self-?|new |more |her |his |gained )confidence|figured (?:\w+ )?out|"
    r"found (?:her|him|them) out|"
    r"(?:was|been|is) found out|new (?:swing|stance|bat|coach)|practi[cs](?:e|es|ed|ing)\b|train(?:s|ed|"
    r"ing)\b|"
    r"coach(?:ed|ing|es)\b|(?:her|his|the|our|a|by) coach\b|"
    r"stronger|under pressure|on fire|hot (?:streak|bat|hand))|\bwork(?:s|ed|ing)? (?:so |very )?hard\b",
    "that gives a cause, and none was looked for",
)
"""A cause, where only a record was counted."""

_LUCK = r"(?:luck|chance|an? (?:fluke|accident|coincidence)|noise)"
NO_LUCK = TooMuch(
    rf"\b(?:is|was|are|were|be) (?:certainly |surely |clearly )?(?:not|no|beyond|above) (?:\w+ )?{_LUCK}\b|"
    rf"\b(?:isn't|wasn't|aren't|cannot be|can't be|could not be|couldn't be|unlikely to be|too \w+ to be) "
    rf"(?:just |only |mere |pure |all )?{_LUCK}\b|"
    r"\b(?:hardly|scarcely) (?:(?:a|any) (?:chance|way) (?:that )?(?:it|this|that)(?:'s| is) )?"
    rf"(?:just |mere )?{_LUCK}\b|"
    rf"(?<!probably )(?<!probably a )\bno (?:mere )?(?:luck|fluke|accident|coincidence)\b|"
    r"\bluck (?:alone )?(?:is|was|seems|looks) (?:\w+ )?(?:out of the question|ruled out|impossible|excluded|"
    r"unlikely|improbable)\b|"
    r"\bluck (?:alone )?(?:cannot|can't|could not|couldn't|does not|doesn't|"
    r"(?:(?:can|could|would|does|has) )?(?:hardly|never)|has (?:no|nothing|not)) "
    r"(?:explains?|makes?|does?|do|accounts?|has|have|helped|part|to do)\b|"
    r"\brules? out (?:luck|chance)\b|\bruling out (?:luck|chance)\b|"
    rf"(?<!whether )(?<!whether it )(?<!whether that )(?<!whether this )(?<!if it )(?<!if )"
    rf"\b(?:is|was|it's) more than {_LUCK}\b",
    "that rules out luck, which may be all of it",
)
"""That luck is ruled out, where it is open."""

TURNED = "that turns round what was shown"
"""Why the claim turned round is too much."""


def as_read(text: str) -> str:
    """Return a sentence as the patterns read it: small letters, no accents, plain signs, single blanks."""
    parts = unicodedata.normalize("NFKD", text.casefold())
    bare = "".join(letter for letter in parts if unicodedata.category(letter) not in _UNSEEN)
    plain = bare.translate(_PLAIN_SIGNS)
    return " ".join(plain.split())


def name(full: str) -> tuple[str, ...]:
    """Return the patterns of somebody's name: whole, or by either part of it."""
    words = as_read(full).split()
    return tuple(rf"\b{re.escape(word)}(?:'?s)?\b" for word in words if len(word) > 1)


def number(value: int) -> str:
    """Return the pattern of a whole number, in figures or, below a thousand and in thousands, in words."""
    figures = rf"(?<![\d.,])(?:{value}|{value:,})(?!\d|[.,]\d| ?%| per ?cent)"
    words = _in_words(value)
    before = r"(?<!y )(?<!y-)" if value < 10 else ""  # "forty five" is no five
    return rf"{figures}|{before}\b{words}\b" if words else figures


def _in_words(value: int) -> str:
    """Return the pattern of a number in words; empty for zero, and where nobody says it in words."""
    if not 0 < value < 1_000:
        thousands, rest = divmod(value, 1_000)
        return rf"{_in_words(thousands)} thousand" if 0 < thousands < 100 and not rest else ""
    hundreds, below = divmod(value, 100)
    if hundreds:
        many = "(?:one|a)" if hundreds == 1 else ONES[hundreds - 1]
        if not below:
            return rf"{many} hundred(?! (?:and )?(?:{'|'.join((*ONES, *TENS))}))"
        short = rf"|{ONES[hundreds - 1]}[ -]{_in_words(below)}" if below >= 10 else ""  # "one fifty"
        return rf"(?:{many} hundred (?:and )?{_in_words(below)}{short})"
    tens, ones = divmod(below, 10)
    if below <= len(ONES):
        return ONES[below - 1]
    if ones:
        return rf"{TENS[tens - 2]}[ -]?{ONES[ones - 1]}"
    return rf"{TENS[tens - 2]}(?![ -]?(?:{'|'.join(ONES[:9])})\b)"


def share(value: float, within: float = 0.006) -> str:
    """Return the pattern of a share in per cent, whole or with a decimal, as near as stated."""
    near = sorted({round(100 * value + step) for step in (-100 * within, 0, 100 * within)})
    whole = "|".join(str(one) for one in range(near[0], near[-1] + 1))
    exact = f"{100 * value:.1f}".replace(".", r"[.,]")
    return rf"(?<![\d.,])(?:{whole}|{exact}){_PER_CENT}"


def rate(value: float) -> str:
    """Return the pattern of a rate: ``.325``, in per cent, or "one in three" where that is near it."""
    text = re.escape(rate_text(value).lstrip("0"))
    simple = [_one_in(parts) for parts in range(2, 21) if abs(value * parts - 1) <= _NEAR_SIMPLE]
    return "|".join([rf"(?<![\d])0?{text}(?!\d)", share(value), *simple])


def _one_in(parts: int) -> str:
    words = ONES[parts - 1] if parts < 20 else TENS[0]
    return rf"\b(?:one|1|once) (?:\w+ )?(?:in|of|out of|every) (?:every )?(?:{words}|{parts})\b"


def chances_in(value: float, within: float = 0.05) -> str:
    """Return the pattern of a chance in parts ("three times out of four") near a value, or of its opposite.

    Parameters
    ----------
    value
        The chance, from 0 to 1.
    within
        By which the parts may differ from it.
    """

    def near(chance: float) -> bool:
        return min(abs(chance - value), abs(1 - chance - value)) <= within

    pairs = [(part, of, "in|of|out of") for of in range(2, 11) for part in range(1, of) if near(part / of)]
    odds = [(one, other, "to") for one in range(1, 10) for other in range(1, 10) if near(one / (one + other))]
    said = "|".join(
        rf"(?:{first}|{ONES[first - 1]}) (?:times? |chances? )?(?:{between}) (?:every )?"
        rf"(?:{second}|{ONES[second - 1]})\b"
        for first, second, between in (*pairs, *odds)
    )
    return rf"(?<![\d.,])\b(?:{said})"


def swings_of(count: int) -> tuple[str, ...]:
    """Return the patterns of a hitter's swings with their number, wherever the two stand."""
    return (rf"^(?=.*\b(?:swings?|swinging|swung|swing-|cuts|hacks|tries)\b).*(?:{number(count)})",)


def on_the_list(minimum: int, hitters: int) -> tuple[str, ...]:
    """Return the patterns of who is on a list: how many they are, or that they have enough swings."""
    return (
        number(minimum),
        number(hitters),
        r"\bregulars?\b",
        r"\b(?:everyday|every-day|full[- ]time)\b|\bqualif\w+",
        r"\benough swings\b",
        r"\bminimum\b",
        r"\bswings? (?:regularly|often enough)\b",
        r"\bplays? (?:regularly|every day)\b",
    )


_ASKED_BY = (
    "whether|if|chance|chance that|chances that|odds that|odds|probability that|percent that|cent "
    "that|% that|four that|"
    "five that|"
    "ten that|hundred that|say|say that|tell that|unlikely that|unlikely|doubt|doubt that|doubtful that|"
    "unclear that|"
    "question that|mean that|mean|maybe|perhaps|possibly"
)
_SELDOM_LIKELY = "".join(
    rf"(?<! {figures}{sign} )"
    for figures in (r"[0-4]\d", r"\d")
    for sign in (" %", "%", " percent", " per cent")
)
"""What stands before "likely" where it says that it is not: less than half, in per cent."""
_SELDOM_LIKELY_THAT = _SELDOM_LIKELY.replace(" )", " likely that )")
ASKED = "".join(rf"(?<!{words} )" for words in _ASKED_BY.split("|")) + _SELDOM_LIKELY_THAT
"""What stands before who or what is only asked about, or said to be unlikely: looked for backwards."""

_MADE_SURE = r"(?:(?!not\b|less\b|hardly\b|never\b|no\b|else\b|some|other|another\b)[\w']+ )"  # words between
_OF_WHOM = r"(?! (?:[\w'-]+ ){0,2}(?:rate|record|mark|figure|share|number|average|list))"  # best of what

_IS_OPEN = (
    r"(?!(?: (?:hitter|one|of (?:them|all))){0,2} (?:is|remains|stays) (?:open|unclear|uncertain|unproven|"
    r"another |"
    r"(?:not|far from|by no means) (?:yet )?(?:certain|sure|settled|clear|proven)))"
)  # of whom it is said to be open


def takes_first_for_best(*names: str) -> tuple[TooMuch, ...]:
    """Return what takes who leads a record for who is best; that it is asked, or denied, is no such thing.

    Parameters
    ----------
    names
        Those who lead, by first name and surname.
    """
    who = ["she", "he"]
    for full in names:
        first, *_, last = as_read(full).split()
        who += [as_read(full), first, rf"(?<!{first} ){last}"]
    best = r"(?:(?:the|our) (?:[\w'-]+ )?best|(?:truly|really) (?:the )?(?:best|number one))"
    best = rf"{best}\b{_OF_WHOM}{_IS_OPEN}"
    likely = rf"{_SELDOM_LIKELY}(?<!not )(?<!less )(?<!how )\blikely"
    of_chance = rf"(?:{likely}|\bprobably|\bsurely|\bno doubt|\bpresumably)"
    nobody = r"(?:nobody|no one|none|no other(?: \w+)?|no hitter)"
    return (
        TooMuch(
            rf"{ASKED}\b(?:{'|'.join(sorted(who, key=len, reverse=True))})(?:'s| is| was| must be) "
            rf"{_MADE_SURE}{{0,3}}{best}|"
            r"(?<!not )\b(?:and|so|thus|hence) (?:(?:is|thus|so|therefore|clearly|truly|really) )+"
            rf"(?:the|our) (?:[\w'-]+ )?best\b{_OF_WHOM}|\bso the best\b{_OF_WHOM}|"
            rf"(?<!whether the )(?<!if the )\bbest (?:\w+ ){{0,3}}(?:is|was) (?:{'|'.join(who)}|her|him)\b|"
            r"(?<!whether that )(?<!whether it )(?<!if that )(?<!if it )"
            rf"\b(?:makes?|making|made) (?:her|him) {_MADE_SURE}{{0,2}}{best}|"
            rf"\bsure that (?:she|he)(?:'s| is) {_MADE_SURE}{{0,3}}{best}",
            "that takes first for best",
        ),
        TooMuch(
            rf"{of_chance} {_MADE_SURE}{{0,4}}{best}|"
            r"\b(?:odds|chances) (?:are|favou?r)\b"
            r"(?!.{0,40}\b(?:not|else|another|somebody|someone|lower|better|against)\b)"
            rf".{{0,40}}\b{best}|\b(?:good|high|strong|big|great|excellent) chance\b.{{0,30}}\bbest\b",
            "that takes first for best, and makes likely what was not shown to be",
        ),
        TooMuch(
            rf"(?<!whether )(?<!if )(?<!chance )\b{nobody} (?:else )?(?:is|was|can be|could be|hits?|does|"
            rf"swings?) "
            r"(?:it )?(?:truly |really |any |as )?(?:better|good)\b|"
            r"\bunlikely (?:that )?(?:any|some)(?:one|body) (?:else )?(?:is|was) (?:truly |really )?better\b|"
            rf"\b{nobody}(?: else)? (?:is|seems|looks) (?:at all )?likely to be\b|"
            r"\bbetter (?:\w+ )?than (?:all|any|every|the (?:rest|others?)|everybody|everyone)\b",
            "that takes first for best",
        ),
    )


def turned_over(part: int, of: int) -> TooMuch:
    """Return the record turned over: so many of so many, with the larger number as the part."""
    return TooMuch(
        rf"(?:{number(of)})[ -](?:[\w'-]+ ){{0,3}}(?:in|of|out of|for|on)[ -]"
        rf"(?:[\w'-]+ ){{0,3}}(?:{number(part)})",
        TURNED,
    )


_DENIED = (
    r"not|n't|no|never|nobody|unlikely|less|fewer|lower|below|under|worse|against|too|else|another|other|"
    r"somebody|someone"
)


def makes_likely(claim: str, why: str = TURNED) -> tuple[TooMuch, ...]:
    """Return what makes a claim likely that was shown to be unlikely, or open.

    Parameters
    ----------
    claim
        The claim's pattern.
    why
        Why it is too much, in a sentence that begins with "that".
    """
    between = rf"(?:(?!\b(?:{_DENIED})\b|n't)[^,;:!?]){{0,60}}?"
    likely = (
        r"(?:\bnot (?:at all |very )?(?:un|im)(?:likely|probable|possible)|"
        rf"{_SELDOM_LIKELY}(?<!not )(?<!less )(?<!how )(?<!hardly )\b(?:likely|probable|probably|presumably|"
        r"surely|doubtless|sure|certain(?:ly)?|confident|convinced)|"
        r"\b(?:odds|chances) (?:are|favou?r)(?! (?:about |only )?(?:\d|one\b|small|slim|low|long|against))|"
        r"\b(?:good|high|strong|big|large|great|excellent|real|fair|even|safe|sure) (?:chances?|odds|bet)|"
        r"\b(?:[6-9]\d|100)(?:[.,]\d+)?(?: ?%| per ?cent)|"
        r"\b(?:sixty|seventy|eighty|ninety)(?:-\w+)? per ?cent|"
        r"\b(?:nine|9|eight|8|seven|7) (?:times? |chances? )?(?:in|of|out of|to) (?:ten|10|one|1)\b|"
        r"\b(?:three|3) (?:times? |chances? )?(?:in|of|out of|to) (?:four|4|one|1)\b|"
        r"\b(?:four|4) (?:times? |chances? )?(?:in|of|out of|to) (?:five|5|one|1)\b)"
    )
    by_far = (
        r"(?:about |nearly |over |more than |at least )?(?:(?:[6-9]\d|100)(?:[.,]\d+)?(?: ?%| per ?cent)|"
        r"(?:nine|9|eight|8) (?:times? |chances? )?(?:in|out of) (?:ten|10)\b)"
    )
    settled = (
        r"(?:very |quite |most |highly |rather |almost )?(?:likely|probable|certain|sure|safe|easy|"
        r"not (?:at all |very )?(?:un|im)(?:likely|probable|possible)|"
        r"a (?:good|safe|sure) (?:bet|thing)|the truth|true|real|"
        r"what (?:she|he) (?:truly |really )?(?:is|does)|true enough|within (?:her|his) reach)\b"
    )
    no_other = r"(?!.{0,30}\b(?:else|another|other|somebody|someone|too|out of|gone|beyond|over|more than)\b)"
    return (
        TooMuch(rf"{likely}{between}(?:{claim})", why),
        TooMuch(rf"(?:{claim}){between}\b(?:is|looks|seems|are|at|of) {by_far}{no_other}", why),
        TooMuch(
            rf"{ASKED}(?:{claim}){between}\b(?:(?:is|looks|seems|are) {settled}|"
            rf"(?:quite|very|highly|rather) (?:likely|probable)){no_other}",
            why,
        ),
    )


def makes_unlikely(claim: str, why: str = TURNED) -> tuple[TooMuch, ...]:
    """Return what makes a claim unlikely that was shown to be likely: ``makes_likely`` the other way.

    Parameters
    ----------
    claim, why
        As there.
    """
    between = r"(?:(?!\b(?:and|but|so|yet|not|or|more|above|over|stays?|keeps?)\b|n't)[^,;:!?]){0,60}?"
    unlikely = (
        r"(?:\bunlikely|\b(?:not|hardly|less) (?:very )?(?:likely|probable)|\bdoubtful|"
        r"\b(?:small|little|no|poor|slim|low|remote) (?:chance|odds|probability|likelihood)|\blong shot|"
        r"\bodds (?:are )?against)"
    )
    return (
        TooMuch(rf"{unlikely}{between}(?:{claim})", why),
        TooMuch(
            rf"(?:\bthat |\bshould |\bto |\bof )[^,;:!?]{{0,40}}(?:{claim})[^,;:!?]{{0,30}}\b(?:is|are|"
            rf"looks|seems) "
            r"(?:very |most |quite |rather )?(?:unlikely|small|slim|low|doubtful|a long shot)\b",
            why,
        ),
    )


def clause_with(said: str, without: str) -> str:
    """Return the pattern of a clause that says something, and before that nothing of what turns it round.

    Parameters
    ----------
    said, without
        Patterns.
    """
    return rf"(?:^|(?<=[.;:,!?] ))(?:(?!{without})[^.;:,]|[.,](?=\d)){{0,{_MOST_OF_A_CLAUSE}}}?(?:{said})"


def too_much_in(text: str, patterns: tuple[TooMuch, ...]) -> tuple[str, str] | None:
    """Return the first words of a sentence that say too much, and why; ``None`` where none do.

    Words behind a denial ("does not prove") say no such thing.
    """
    read = _ASIDE.sub(r" \1", _THOUSANDS.sub("", as_read(text)))
    for one in patterns:
        for found in re.finditer(one.pattern, read):
            before = " ".join(_CLAUSE.split(read[: found.start()])[-1].split()[-_REACH:])
            if not _DENIAL.search(before):
                return found[0].strip(), one.why
    return None
