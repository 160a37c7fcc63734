"""The pitch table's own page: words, bounds and key agree with each other."""

from hitlab.pitches.schema import COLUMNS, FAMILIES, KEY, NEEDED, PITCH_KINDS


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
