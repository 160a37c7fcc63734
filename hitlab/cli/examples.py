"""One example of every command, which its help ends with; names are those of the demo season."""

from __future__ import annotations

__all__ = ["EXAMPLES"]

EXAMPLES = {
    "above": "hitlab check above Izezno 16%",
    "add": "hitlab add saturday.xlsx sunday.xlsx --to season.parquet --roster roster.csv --mapping team.toml",
    "ahead": "hitlab check ahead Nadia Izezno Ada Mondezno",
    "ask": 'hitlab ask "Izezno owns breaking balls"',
    "below": "hitlab check below Izezno league --event whiffs",
    "board": "hitlab board --club Lanterns --to board.html",
    "carry": "hitlab carry 100 28 --spin 2000 --altitude 5000",
    "chart": "hitlab chart --to game.pdf --to game.xlsx --roster roster.csv",
    "charters": "hitlab charters mine.csv yours.csv",
    "check": "hitlab check leads Izezno",
    "desk": "hitlab desk --file season.parquet",
    "different": "hitlab check different Izezno --since May",
    "dugout": "hitlab dugout --club Lanterns --against Wexcombe --to dugout.html",
    "eye": "hitlab eye chart.csv radar.csv",
    "fewer": "hitlab check fewer Izezno --since May --event whiffs",
    "hot": "hitlab check hot Izezno",
    "leads": "hitlab check leads Izezno --event in_play --when pitch_kind=fastball",
    "lessons": "hitlab lessons --to lessons",
    "list": "hitlab list --event whiffs --minimum 150",
    "make": "hitlab make league --hitters 60 --clubs 4 --pitches 40000",
    "more": "hitlab check more Izezno --since May",
    "near": "hitlab check near Izezno 1/5",
    "page": "hitlab page Izezno --for player --to page.html",
    "read": "hitlab read charts --roster roster.csv --mapping team.toml --save season.parquet",
    "response": "hitlab check response Izezno --response whiff",
    "split": "hitlab check split Izezno --when pitch_kind=breaking",
    "spot": 'hitlab check spot Izezno --behind 1 --outs 2 --bases "first second"',
    "steady": "hitlab check steady Izezno",
    "swing": "hitlab swing --under 0.8 --late 6 --picture swing.png",
    "together": 'hitlab check together "in_play per contact" "hard per swings" --first-when '
    "pitch_kind=fastball --second-when pitch_kind=breaking",
    "top": "hitlab check top Izezno --top 5",
}
"""By the name of a command what somebody types."""
