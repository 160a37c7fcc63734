"""The pitch table's own page: words, bounds and key agree with each other."""

import ast
import itertools
from pathlib import Path

import hitlab
from hitlab.pitches.schema import (
    BALL_OUTCOMES,
    COLUMNS,
    CONTACT_OUTCOMES,
    ENDING_OUTCOMES,
    FAMILIES,
    KEY,
    NEEDED,
    OUTCOMES,
    PITCH_KINDS,
    STRIKE_OUTCOMES,
    SWING_OUTCOMES,
    TAKE_OUTCOMES,
    THROWN_OUTCOMES,
)


def test_key_and_needed_columns_are_columns():
    assert set(KEY) <= set(COLUMNS)
    assert set(NEEDED) <= set(COLUMNS)


def test_each_pitch_kind_belongs_to_one_family_but_other():
    listed = [kind for kinds in FAMILIES.values() for kind in kinds]
    assert len(listed) == len(set(listed))
    assert set(PITCH_KINDS) - set(listed) == {"other"}


def test_units_stand_in_the_names_of_measured_columns():
    for column in COLUMNS.values():
        if column.unit:
            assert column.name.endswith("_" + column.unit)


def test_what_a_column_accepts_reads_as_english():
    assert COLUMNS["speed_mph"].accepted == "a number from 20 to 120 mph"
    assert COLUMNS["outs"].accepted == "a whole number from 0 to 2"
    assert COLUMNS["hitter_side"].accepted == "one of: left, right"


def test_each_outcome_is_of_one_group_in_each_way_of_grouping():
    not_thrown = {"automatic ball", "automatic strike", "intentional ball", "no pitch"}
    assert set(THROWN_OUTCOMES) == set(OUTCOMES) - not_thrown
    # Neither swing nor take: the catcher left the hitter no chance.
    assert set(THROWN_OUTCOMES) - {*SWING_OUTCOMES, *TAKE_OUTCOMES} == {"catcher's interference"}
    assert set(CONTACT_OUTCOMES) < set(SWING_OUTCOMES)
    # A foul is of none of these: what it does depends on the count. After "no pitch" nothing has changed.
    by_count = (BALL_OUTCOMES, STRIKE_OUTCOMES, ENDING_OUTCOMES)
    assert {word for group in by_count for word in group} == set(OUTCOMES) - {"foul", "no pitch"}
    for groups in ((SWING_OUTCOMES, TAKE_OUTCOMES), by_count):
        for one, other in itertools.combinations(groups, 2):
            assert not set(one) & set(other)


def test_the_words_of_a_group_stand_in_one_place_only():
    root = Path(hitlab.__file__).parent
    groups = [set(group) for group in (SWING_OUTCOMES, TAKE_OUTCOMES, BALL_OUTCOMES, STRIKE_OUTCOMES)]
    groups += [set(STRIKE_OUTCOMES) - {"automatic strike"}, set(ENDING_OUTCOMES)]
    found = []
    for folder in ("pitches", "datasets"):
        for path in sorted((root / folder).glob("*.py")):
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                if isinstance(node, ast.Tuple | ast.List | ast.Set):
                    words = {part.value for part in node.elts if isinstance(part, ast.Constant)}
                    if words in groups:
                        found.append(path.name)
    assert found == ["schema.py"] * 5
