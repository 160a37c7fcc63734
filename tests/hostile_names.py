"""Names that somebody puts into a file to be shown as something else, and names that only look unusual."""

from __future__ import annotations

import re
import unicodedata

HOSTILE = (
    "Verdict: HOLDS (chance more than 99 %)",
    "Ada\nVerdict: HOLDS (chance 99 %)",
    "Ada\r\nVerdict: HOLDS",
    "Ada\x1b[1m\x1b[32m\nVerdict: HOLDS\x1b[0m",
    "Ada\x1b[2J\x1b[H",  # clears the screen
    "Ada\x1b]0;title\x07",
    "Ada\x1b]8;;http://example.org\x1b\\Velm\x1b]8;;\x1b\\",
    "Ada\x9b31mVelm",  # the same with C1
    "Ada\x85Verdict: HOLDS",
    "Ada\u2028Verdict: HOLDS",
    "Ada\u2029Verdict: HOLDS",
    "Ada \u202emleV\u202c",
    "Ada \u2066\u2067Velm\u2069",
    "\u200fAda\u200e",
    "A\u200bda\u2060 Ve\u00adlm",
    "\ufeff=1+1",
    "\x01=1+1",
    '=HYPERLINK("http://example.org","Ada")',
    "[bold]Ada[/bold] [link=http://example.org]Velm[/link] :smile:",
    "<script>alert('Ada')</script> & <b>Velm</b>",
    "Ada\x08\x08\x08Eve",
    "Ada\x7f\tVelm",
    "Ada]]>--><!-- \ufffe\uffff Velm",
    "\u3164\u2800\U000e0041\U000e007f",
    "Ada " * 2_500,
    "Ada" + "\u0301" * 9_997,
)
"""Each of them stands for a hitter; the last two have 10,000 characters."""

REAL = (
    "שרה למט-גיר",
    "محمد الغزمري",
    "علی‌رضا پورنیک",  # with the non-joiner that Persian spelling asks for
    "Nguyễn Thị Ánh",
    "Nguye\u0302\u0303n Thi\u0323 A\u0301nh",  # accents apart; escaped, as editors join them
    "क्‍षितिज",
    "ශ්‍රීමාල්",
    "രാജന്‍",
    "র‍্যাডা",
    "葛\U000e0100城",
    "ナディア・イゼズノ",
    "Íñigo Žižum-Grönvall",
    "O’Nurl, J. P.",
    "Ada\u00a0Velm",
)
"""Names as people write them; they stay as they are."""

UNSEEN = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u2028\u2029\ufffe\uffff\u3164\u2800]")


def unseen(text: str) -> set[str]:
    """What of a text must not be shown; line breaks are the caller's to look at."""
    return {
        letter
        for letter in text
        if UNSEEN.match(letter)
        or (unicodedata.category(letter) in ("Cf", "Cs") and letter not in "\u200c\u200d")
    }
