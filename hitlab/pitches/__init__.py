"""The pitch table: its columns, how one is read, checked, saved and opened again."""
