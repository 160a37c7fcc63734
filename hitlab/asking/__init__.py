"""Ask in your own words: a sentence becomes a question, a choice of questions, or a plain refusal.

In the order in which a sentence goes through them: ``seasons`` (which of several is named: it is taken out);
``text`` (words and marks); ``colloquial`` (turns of talk put plainly: gotta be, rather have one than the
other; colour left out and said), ``sides`` and ``spans`` (others who do it more, and days that are told by
what was before them, each turned to what is asked), ``frames`` (grammatical frames put plainly: nobody is
found who, not as often as), ``talk`` (clauses beside a claim that change nothing, and mockery that turns it
round);
``wordings`` (other ways to say the same, put into the words of the tables; the tables by subject beside it),
``phrases``, ``phrases_rates``, ``phrases_situations`` (the trade's words, one table a slot), ``limits`` (what
cannot be asked), ``numbers`` (shares, counts, days), ``people`` (who is meant), ``risk`` (which words may
be left out, said in the open); ``slots`` (the order of steps), ``neighbours`` (what a word is said of: a
degree, a denial, a hand, a club counts only beside what it can be said of), ``marks`` (what was used),
``order`` (words that cannot stand side by side), ``said`` (what is said of somebody), ``about`` and the files
beside it (the kinds of claim about somebody, by what they compare), ``fit`` (which kind fits, what is asked
back), ``restating`` (a habit and its claim in one breath), ``pieces`` (clauses that can be asked where the
whole cannot), ``reading`` (the question in words), ``found`` (what was found, slot by slot), ``whole`` (a
sentence from end to end), ``outcome`` (the result), ``asked`` (all of it).

Where that does not end in a reading, ``turned`` looks for words that turn the whole of it (who denies saying
it, all but one, what once was, a situation left out) and asks what is left of it, the right way round.

Where there are none of these, the sentence is looked at once more and softly: ``soft_idioms`` puts
turns of talk plainly, ``soft_marks`` puts marks wherever a word of ``soft_rates`` or ``soft_cues`` stands,
``soft_slots`` looks for each slot on its own, ``soft_ways`` for the kinds of question that they may make, and
``soft`` scores the questions. ``nearest`` offers the best three, never read, so these tables may be as wide
as people talk: a word for a rate, a situation or a comparison that is not understood goes there first.

A word of the trade is one row in its table in ``phrases`` and its two neighbours, or in ``wordings`` where it
is another way to say what a table has. A word that no table has is left out and said where ``risk`` finds
that it cannot change the question, and asked back elsewhere. Say it with other names and situations in
``tests/test_asking.py``; ``python -m tests.benchmarks.asked --show`` tells what it did to the sentences, and
to those that are nearly a question and are none.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
