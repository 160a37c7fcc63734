"""Print the sentences of every kind of claim on the demo season, to be read aloud."""

from __future__ import annotations

import argparse

from hitlab.claims.samples import SAMPLES
from hitlab.demonstration import demo_season


def main() -> None:
    """Print them: question, verdict, headline, and the sentences with their numbers of words."""
    parser = argparse.ArgumentParser(prog="python -m hitlab.claims", description=__doc__)
    parser.add_argument("--kind", default="", help="of one kind only")
    kind = parser.parse_args().kind
    season = demo_season()
    for question in SAMPLES:
        if kind and question.kind != kind:
            continue
        claim = question.ask(season)
        print(f"{claim.kind}, {claim.about}: {claim.verdict_line}")
        lines = {
            "Headline": claim.headline,
            "Safe to say": claim.say,
            "In full": claim.say_in_full,
            "Avoid": claim.avoid,
            "If asked again": claim.follow_up,
        }
        for name, text in lines.items():
            print(f"  {name} ({len(text.split())}): {text}")
        print()


if __name__ == "__main__":
    main()
