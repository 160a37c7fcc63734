"""Is the sentence safe to say? A question, a table, and the answer with all that it rests on."""

from hitlab.claims.kinds import KINDS, Kind
from hitlab.claims.question import About, Direction, Question, Subject
from hitlab.claims.result import Claim, Verdict

__all__ = ["KINDS", "About", "Claim", "Direction", "Kind", "Question", "Subject", "Verdict"]
