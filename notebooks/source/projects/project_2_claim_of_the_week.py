# %% [markdown]
# # Project 2: a claim of the week
#
# Somebody says something this week: at the net, on air, in a meeting. You check it, with everything that could be chosen afterwards
# written down before you look. Nobody marks this by machine; the rubric is at the end. Read it first.
#
# Time: ten minutes on the day when you hear it, and 60 to 90 minutes later. You need lessons 1 to 5.

# %%
import hashlib
from textwrap import fill

import hitlab
from hitlab import plots

# %% [markdown]
# ## Step 1. What was said
#
# Word for word, by whom, and when. A claim that you heard counts; one that you made up because it is easy to check does not.
# If nobody says anything about hitters this week, take a claim about something else that is counted, with a table of your own.

# %% tags=["answer"]
heard = {
    "word for word": "...",
    "by whom, where": "...",
    "day": "...",
}

# %% tags=["solution"]
heard = {
    "word for word": "Clementine Abaliches? She misses fewer than one swing in five.",
    "by whom, where": "the announcer of the Port Quillan Otters, sixth inning",
    "day": "2031-06-24",
}

# %% [markdown]
# ## Step 2. Before you look
#
# Make it checkable, and choose all that could be chosen later to suit the answer:
#
# - **the question** in one sentence, with who, what, out of what, among whom, over what time; about the record, or about what is truly so;
# - **the minimum**: the fewest chances with which somebody is compared, or "none needed", and why;
# - **the bounds**: from what chance you will say "holds", and up to which "does not hold". What does it cost to be wrong?
# - **looks**: how many other hitters, days or situations whoever said it had probably looked at;
# - **a guess**: your verdict today, and how sure you are.

# %% tags=["answer"]
plan = {
    "question": "...",
    "record or truly so": "...",
    "who": "...",
    "event": "...",
    "per": "...",
    "value": ...,
    "more or less": "...",
    "minimum": ...,
    "why this minimum": "...",
    "holds at": ...,
    "fails at": ...,
    "why these bounds": "...",
    "looks": ...,
    "guess": "...",
    "sure": ...,
}

# %% tags=["solution"]
plan = {
    "question": "Is Clementine Abaliches's true rate of whiffs per swing, in this league, "
    "below one in five?",
    "record or truly so": "truly so; the record is told beside it",
    "who": "Clementine Abaliches",
    "event": "whiffs",
    "per": "swings",
    "value": 0.20,
    "more or less": "less",
    "minimum": 150,
    "why this minimum": "only for the list beside it: about a quarter of the most swings",
    "holds at": 0.90,
    "fails at": 0.10,
    "why these bounds": "it is said on air and cannot be taken back; nobody is hurt by it",
    "looks": 103,
    "guess": "holds",
    "sure": 0.6,
}

# %% [markdown]
# ### Close it
#
# The next cell reads the plan and gives a code of eight signs. Send the code to somebody (a colleague, your teacher) **before** you go
# on. Whoever changes a word of the plan gets another code.


# %%
def dots_left(notes):
    return [name for name, value in notes.items() if value is ... or value == "..."]


def code_of(*notes):
    text = "\n".join(f"{name}: {value}" for one in notes for name, value in one.items())
    return hashlib.sha256(text.encode()).hexdigest()[:8]


left = dots_left(heard) + dots_left(plan)
code = "" if left else code_of(heard, plan)
print(f"still open: {', '.join(left)}" if left else f"the code is {code}")

# %% [markdown]
# Put the code that you sent between the marks, with the day and to whom.

# %% tags=["answer"]
sent = "..."
sent_when_and_to_whom = "..."

# %% tags=["solution"]
sent = code
sent_when_and_to_whom = "2031-06-24, to the colleague at the next desk"

# %% [markdown]
# ## Step 3. Look
#
# The cell below holds your plan against the code that you sent, and makes of it what the checks are asked with. From here on take every
# choice from `plan` or `asked`, and type none anew.


# %%
def asked_from(plan):
    if dots_left(plan):
        return {}
    asked = {"event": plan["event"], "per": plan["per"]}
    asked |= {"direction": plan["more or less"]}
    return asked | {"holds_at": plan["holds at"], "fails_at": plan["fails at"]}


asked = asked_from(plan)
same = not left and sent == code_of(heard, plan)
if left:
    print("there is no plan yet")
else:
    print(
        "the plan is as it was sent"
        if same
        else "the plan is not the one that was sent"
    )

# %% [markdown]
# Now the table: your own, read and looked at as in project 1, or the season of the lessons (`hitlab.demo_season()`). Say in
# one sentence what it covers, and who is not in it.

# %% tags=["answer"]
table = ...
covers = "..."

# %% tags=["solution"]
table = hitlab.demo_season()
covers = "Every pitch of 150 hitters of the ten clubs, April 3 to June 23; no games of other leagues."

# %% tags=["asserted"]
counts = hitlab.tally(table)
assert len(counts.table()) == 150
assert counts.table()["club"].nunique() == 10

# %% [markdown]
# ### Count, then check
#
# First the record: who, how many, out of how many. Then what is truly so, with the check that fits the claim (`hitlab.check_above`,
# `check_leads`, `check_ahead`, `check_split`, ...). One of the two was asked for in the plan; tell the other beside it.

# %% tags=["answer"]
record = ...
claim = ...

# %% tags=["solution"]
counts = hitlab.tally(table)
record = hitlab.check_above(counts, plan["who"], plan["value"], about="record", **asked)
claim = hitlab.check_above(counts, plan["who"], plan["value"], **asked)
for one in (record, claim):
    print(fill(f"{one.verdict_line}: {one.say_in_full}", 88))
    print()

# %% tags=["solution"]
plots.show(plots.claim(claim))

# %% tags=["asserted"]
assert (record.verdict, claim.verdict) == ("holds", "open")
hers = counts.table().set_index("hitter").loc["Clementine Abaliches"]
assert (hers["whiffs"], hers["swings"]) == (100, 545)
minimum = counts.table()["swings"] >= plan["minimum"]
assert minimum.sum() == plan["looks"] == 103

# %% [markdown]
# ### What else could explain it
#
# Was it picked for being striking? Whom did he or she face, and when? Were some not counted? Try **one** of these, say which you tried and what
# came of it, and do not try on until one of them suits you.

# %% tags=["answer"]
tried = "..."

# %% tags=["solution"]
leads = hitlab.check_leads(counts, plan["who"], minimum=plan["minimum"], **asked)
print(fill(f"{leads.verdict_line}: {leads.say_in_full}", 88))
tried = (
    "Was she picked? She is third of 103 on that list, so probably she was named for it. Whoever "
    "stands high on a list is good and was lucky; the check has that in it, because it pulls "
    "her toward the league."
)

# %% tags=["asserted"]
assert leads.verdict == "open"
rates = counts.table().loc[minimum].set_index("hitter").eval("whiffs / swings")
assert int(rates.rank()["Clementine Abaliches"]) == 3

# %% [markdown]
# ## Step 4. Say it
#
# The verdict, one sentence ready for air, and at most three sentences on what would change your mind. Was your guess right?

# %% tags=["answer"]
verdict = "..."
sentence = "..."
change_my_mind = "..."

# %% tags=["solution"]
verdict = claim.verdict
sentence = (
    "Clementine Abaliches has missed 100 of 545 swings so far, which only two of 103 in the league "
    "do less; that she truly misses fewer than one in five is open, about two chances in five."
)
change_my_mind = (
    "More swings at the same rate. The guess was wrong: the record is below one in five, and I took "
    "it for the rate."
)
print(fill(claim.say, 88))

# %% [markdown]
# ## The rubric
#
# Four criteria, up to 3 points each. Give the highest one that is met in full.
#
# | | 0 | 1 | 2 | 3 |
# |---|---|---|---|---|
# | **The claim** | made up, or not word for word | word for word, with by whom and when | and a question with three of: who, what, out of what, among whom, over what time | and all five, and whether it is about the record or about what is truly so |
# | **Before looking** | no plan, or dots in it | minimum and bounds are there, without reasons or without a code that was sent | with reasons, and the code that was sent is the plan's | and the later cells take every choice from it; what was changed after all is said |

# %% [markdown]
# | | 0 | 1 | 2 | 3 |
# |---|---|---|---|---|
# | **Looking** | no count is shown | the record with both its numbers, and nothing on what is truly so, or a check that answers another question | record and what is truly so, by a check that answers the question of the plan | and one other explanation was tried, and what came of it is told |
# | **Saying it** | no verdict, or another than the check's | the check's verdict; the sentence says more than was shown | a sentence with four of: who, what, out of what, among whom, how sure, and no more than was shown | with all five; what would change it is told, and whether the guess was right |

# %% [markdown]
# 10 to 12 points: ready to be shown to others. 6 to 9: hand it in again. Fewer: do lessons 3 and 4 again first.

# %% [markdown] tags=["solution"]
# ## Two submissions, marked
#
# For those who mark: mark each one before you read the marks below it. (The notebook above would get 12.)

# %% [markdown] tags=["solution"]
# ### The first
#
# ```json
# {
#   "word for word": "She misses fewer than one swing in five.",
#   "by whom, where": "the announcer of the Otters",
#   "day": "2031-06-24",
#   "question": "Does Clementine Abaliches miss fewer than one in five?",
#   "minimum": 100, "why this minimum": "...",
#   "holds at": 0.5, "fails at": 0.5, "why these bounds": "...",
#   "code sent": "...",
#   "count": "100 of 545, which is .183",
#   "verdict": "holds",
#   "sentence": "The numbers prove it: Clementine Abaliches misses fewer than one swing in five."
# }
# ```

# %% [markdown] tags=["solution"]
# **Marks: 1 + 0 + 1 + 0 = 2 of 12.**
#
# - *The claim, 1:* word for word, with by whom and when. The question has who and what, and "one in five" of what is not said: two of five.
# - *Before looking, 0:* there are dots in the plan.
# - *Looking, 1:* the record with both its numbers; nothing on what is truly so.
# - *Saying it, 0:* no check was made, so the verdict is no check's. ("Prove" would have cost a point as well.)

# %% [markdown] tags=["solution"]
# ### The second
#
# ```json
# {
#   "word for word": "Clementine Abaliches? She misses fewer than one swing in five.",
#   "by whom, where": "the announcer of the Otters, sixth inning", "day": "2031-06-24",
#   "question": "Is her true rate of whiffs per swing in this league, this season, below .200?",
#   "record or truly so": "truly so",
#   "minimum": "none needed", "why this minimum": "one hitter, 545 swings",
#   "holds at": 0.9, "fails at": 0.1, "why these bounds": "it is said on air",
#   "code sent": "the plan's, the same evening, to the teacher",
#   "record": "100 of 545", "check": "check_above(counts, plan['who'], plan['value'], **asked)",
#   "verdict": "open, chance 39 %",
#   "tried": "third of 103 at it, so she was likely picked for it; the check pulls her toward the league",
#   "sentence": "Clementine Abaliches missed 100 of 545 swings; below one in five is open, two chances in five.",
#   "change my mind": "some hundreds of swings more at this rate. I had guessed holds, and was wrong."
# }
# ```

# %% [markdown] tags=["solution"]
# **Marks: 3 + 3 + 3 + 2 = 11 of 12.**
#
# - *The claim, 3:* all five are in the question, and that it is about what is truly so.
# - *Before looking, 3:* reasons, the plan's own code, and the check takes its choices from the plan.
# - *Looking, 3:* record and truth, by the check that the question asks for, and one other explanation.
# - *Saying it, 2:* who, what, out of what, how sure. *Among whom* is missing: without the league nobody understands why 100 of 545 is
#   not below one in five for good.

# %% tags=["asserted"]
from hitlab.wording import percent, rate_text

assert percent(claim.chance) == "39 %"
assert rate_text(100 / 545) == ".183"
assert rate_text(plan["value"]) == ".200"
assert same
assert code_of(heard, {**plan, "minimum": 100}) != sent
assert "two chances in five" in claim.say
