"""An answer as HTML: for eyes and for screen readers, and nothing from the data is taken for markup."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from typing import Any

from hitlab.claims import Claim
from hitlab.claims.verdicts import Answer
from hitlab.errors import HitlabError
from hitlab.evidence import cut_list
from hitlab.questions import KINDS
from hitlab.results import Table, as_html
from hitlab.showing import shown
from hitlab.wording import capitalised

__all__ = ["STYLE", "details_html", "paragraphs", "picture_html", "pitches_html", "verdict_html"]

_PITCHES = 5  # on either side
_WIDTH = 860  # of the picture, in CSS pixels

# What was counted looks as what is likely: its words tell them apart.
_LOOKS: dict[Answer, str] = {
    "holds": "holds",
    "does not hold": "fails",
    "open": "open",
    "record holds": "holds",
    "record does not hold": "fails",
    "record open": "unknown",
    "cannot be told": "unknown",
}

# Four looks that differ by line and fill: they can be told apart without colours.
STYLE = """<style>
.desk h2 { font-size: 1.3em; margin: 1.2em 0 0.3em; }
.desk h3 { font-size: 1.05em; margin: 0.9em 0 0.2em; }
.desk h4 { font-size: 1em; margin: 0.6em 0 0.1em; }
.desk p, .desk li { line-height: 1.45; max-width: 46em; margin: 0.3em 0; }
.desk, .desk .widget-html-content, .desk .jupyter-button { color: #1F2A33; font-size: 15px; }
.desk .widget-html-content { white-space: normal; line-height: 1.4; }
.desk .desk-verdict {
  display: inline-block; font-size: 1.5em; font-weight: 700; padding: 0.25em 0.8em; margin: 0.3em 0;
}
.desk .desk-holds { background: #1F2A33; color: #FFFFFF; border: 4px solid #1F2A33; }
.desk .desk-fails { background: #FFFFFF; color: #1F2A33; border: 8px double #1F2A33; }
.desk .desk-open { background: #FFFFFF; color: #1F2A33; border: 4px dashed #1F2A33; }
.desk .desk-unknown { background: #FFFFFF; color: #1F2A33; border: 4px dotted #1F2A33; }
.desk .desk-say { font-size: 1.35em; border-left: 6px solid #1F2A33; padding-left: 0.7em; }
.desk .desk-heard {
  position: absolute; width: 1px; height: 1px; margin: -1px; overflow: hidden; clip-path: inset(50%);
}
.desk .desk-wide { overflow-x: auto; max-width: 100%; }
.desk table { border-collapse: collapse; font-size: 0.95em; }
.desk th, .desk td {
  padding: 0.15em 0.7em; text-align: left; border-bottom: 1px solid #C9CDD1; color: #1F2A33;
}
.desk summary { cursor: pointer; font-weight: 600; padding: 0.3em 0; }
.desk .jupyter-button {
  height: auto; min-height: 34px; width: auto; white-space: normal; text-align: left; line-height: 1.4;
  background: #FFFFFF; border: 1px solid #1F2A33; padding: 0.2em 0.9em;
}
.desk .jupyter-button:disabled { border-style: dotted; }
.desk .jupyter-button:focus-visible, .desk input:focus-visible, .desk select:focus-visible,
.desk summary:focus-visible, .desk .desk-wide:focus-visible {
  outline: 3px solid #1F2A33; outline-offset: 2px;
}
.desk .widget-label { color: #1F2A33; font-size: 15px; height: auto; line-height: 30px; }
.desk input, .desk select {
  color: #1F2A33 !important; font-size: 15px !important; border: 1px solid #5A6670 !important;
}
.desk input::placeholder { color: #5A6670; }
</style>"""


def paragraphs(texts: Iterable[str], tag: str = "p") -> str:
    """Return sentences as paragraphs, or as points of a list.

    Examples
    --------
    >>> paragraphs(["Ada <Velm>"])
    '<p>Ada &lt;Velm&gt;</p>'
    """
    told = "".join(f"<{tag}>{escape(shown(text))}</{tag}>" for text in texts)
    return f"<ul>{told}</ul>" if tag == "li" and told else told


def verdict_html(claim: Claim) -> str:
    """Return the verdict and the three sentences for air.

    Parameters
    ----------
    claim
        The answer.
    """
    words = escape(shown(claim.verdict_words))
    return (
        f'<p class="desk-verdict desk-{_LOOKS[claim.answer]}">{words}</p>'
        f"{paragraphs([f'{claim.verdict_line}.'])}"
        f'<h3>Say</h3><p class="desk-say">{escape(shown(claim.say))}</p>'
        f"<h3>Avoid</h3>{paragraphs([claim.avoid])}"
        f"<h3>If asked again</h3>{paragraphs([claim.follow_up])}"
    )


def picture_html(claim: Claim) -> str:
    """Return the picture of a claim with its words; a sentence where it cannot be drawn here."""
    try:
        from hitlab.plots import claim as draw_claim
        from hitlab.plots import image

        return f"<h3>The picture</h3>{image(draw_claim(claim), _WIDTH)}"
    except (HitlabError, ModuleNotFoundError) as error:
        return f"<h3>The picture</h3>{paragraphs([f'It cannot be drawn here: {error}'])}"


def _wide(frame: Any, label: str, missing: str = "") -> str:
    """Return a table that can be moved by the keyboard where it is wider than the page."""
    table = as_html([Table(frame, missing=missing)])
    return f'<div class="desk-wide" role="region" tabindex="0" aria-label="{escape(label)}">{table}</div>'


def details_html(claim: Claim) -> str:
    """Return the evidence, what would change it, and behind a fold what was assumed and noted."""
    pieces = ["<h3>The numbers</h3>", _wide(claim.evidence_for_people(), "The evidence, a table")]
    if claim.not_shown_words:
        pieces.append(paragraphs([claim.not_shown_words]))
    if claim.became_words:
        pieces.append(paragraphs([f"{claim.became_words}."]))
    if len(claim.beside):
        pieces.append(_wide(claim.beside_for_people(), "The same over other denominators, a table"))
    pieces.append(f"<h3>What would change it</h3>{paragraphs([f'{capitalised(claim.would_change)}.'])}")
    if claim.cannot_tell:
        pieces.append(paragraphs([f"{capitalised(claim.cannot_tell)}."]))
    fold = [
        f"<h4>In full</h4>{paragraphs([claim.say_in_full])}",
        f"<h4>Assumed</h4>{paragraphs(claim.assumptions, 'li')}",
        f"<h4>Notes</h4>{paragraphs(claim.notes, 'li')}" if claim.notes else "",
        paragraphs([f"Source: {claim.source}; counts {claim.fingerprint}."]),
    ]
    pieces.append(
        f"<details><summary>All of it: assumed, noted, said in full</summary>{''.join(fold)}</details>"
    )
    return "".join(pieces)


def pitches_html(claim: Claim, pitches: Any) -> str:
    """Return some pitches for the claim and some against it, with their clips where the table names any.

    Parameters
    ----------
    claim
        The answer.
    pitches
        What it was asked of.
    """
    head = "<h3>Pitches for it and against it</h3>"
    if not KINDS[claim.kind].shots:
        return f"{head}{paragraphs(['Single pitches do not speak for or against a claim of this kind.'])}"
    try:
        found = cut_list(pitches, claim, most=_PITCHES)
    except HitlabError as error:
        return f"{head}{paragraphs([f'There is no list of pitches: {error}'])}"
    pieces = [head, paragraphs([found.rule])]
    table = found.table_for_people().drop(columns=["place", "hitter"], errors="ignore")
    for side in dict.fromkeys(table["side"]):
        rows = table[table["side"] == side].drop(columns="side")
        told = "For it" if side == "supports" else "Against it"
        pieces.append(f"<h4>{told}</h4>{_wide(rows, f'{told}, a table of pitches')}")
    if "clip" not in table:
        pieces.append(
            paragraphs(["The table names no clips, so these are pitches without a place in a video."])
        )
    return "".join(pieces)
