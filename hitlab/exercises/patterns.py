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

__all__ = ["CHANCE", "DOUBT", "SURE_WORDS", "as_read", "name", "number", "rate", "share", "too_much_in"]

_PER_CENT = r"(?: ?%| per ?cent\b)"
_DENIAL = re.compile(r"\b(?:not|no|never|nobody|nothing|cannot|without|nor|neither|hardly)\b|n't\b")
_NEAR_SIMPLE = 0.15  # by which a rate may differ from one in so many, as a share of it
_CLAUSE = re.compile(r"[.,;:!?](?= |$)")  # no denial reaches beyond
_REACH = 5  # words within which a denial turns round what follows

CHANCE = (
    rf"\b\d[\d.]*{_PER_CENT}",
    r"\bchances?\b",
    r"\bprobab",
    r"\blikel(?:y|ier|iest)\b",
    r"\bodds\b",
    r"\bin (?:ten|ten chances|a hundred|10|100)\b",
    r"\bsure\b",
)
"""How sure something is: a chance in words or figures."""

DOUBT = (
    r"\bopen\b",
    r"\b(?:cannot|can not|can't|could not|couldn't) (?:yet )?(?:say|tell|be (?:said|told|sure)|know)",
    r"\b(?:not|no) (?:yet )?(?:enough|sure|clear|settled|certain|known)\b",
    r"\btoo (?:early|few|little|soon|small)\b",
    r"\bnobody knows\b",
    r"\b(?:may|might|could) (?:well )?(?:be|have been)\b",
    r"\bdo(?:es)? ?n[o']t (?:yet )?(?:tell|say|show|settle)",
    r"\b(?:far )?from (?:sure|certain|settled|clear)\b",
    r"\b(?:unsettled|uncertain|undecided|unclear|unproven)\b",
    r"\bnot (?:large|big|many|much|long) enough\b",
    r"\b(?:would not|wouldn't|would n't) (?:swear|bet|stake)\b",
    r"\bgrain of salt\b",
    r"\bjury\b",
    r"\b(?:nobody|no one|none) (?:can|could) (?:yet )?(?:say|tell|know)\b",
    r"\b(?:may|might|could) (?:well )?be (?:just |only |mere )?(?:noise|luck|chance)\b",
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


def as_read(text: str) -> str:
    """Return a sentence as the patterns read it: small letters, no accents, plain signs, single blanks."""
    parts = unicodedata.normalize("NFKD", text.casefold())
    bare = "".join(letter for letter in parts if not unicodedata.combining(letter))
    plain = bare.translate(str.maketrans("’‘´`‐‑‒–—−", "''''------"))
    return " ".join(plain.split())


def name(full: str) -> tuple[str, ...]:
    """Return the patterns of somebody's name: whole, or by either part of it."""
    words = as_read(full).split()
    return tuple(rf"\b{re.escape(word)}(?:'?s)?\b" for word in words if len(word) > 1)


def number(value: int) -> str:
    """Return the pattern of a whole number, in figures or, up to a hundred, in words."""
    figures = rf"(?<![\d.,])(?:{value}|{value:,})(?!\d|[.,]\d| ?%| per ?cent)"
    if not 0 < value < 100:
        return figures
    tens, ones = divmod(value, 10)
    if value < 20:
        words = ONES[value - 1]
    elif ones:
        words = rf"{TENS[tens - 2]}[ -]?{ONES[ones - 1]}"
    else:
        words = rf"{TENS[tens - 2]}(?![ -]?(?:{'|'.join(ONES[:9])})\b)"
    before = r"(?<!y )(?<!y-)" if value < 10 else ""  # "forty five" is no five
    return rf"{figures}|{before}\b{words}\b"


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


def too_much_in(text: str, patterns: tuple[TooMuch, ...]) -> tuple[str, str] | None:
    """Return the first words of a sentence that say too much, and why; ``None`` where none do.

    Words behind a denial ("does not prove") say no such thing.
    """
    read = as_read(text)
    for one in patterns:
        for found in re.finditer(one.pattern, read):
            before = " ".join(_CLAUSE.split(read[: found.start()])[-1].split()[-_REACH:])
            if not _DENIAL.search(before):
                return found[0].strip(), one.why
    return None
