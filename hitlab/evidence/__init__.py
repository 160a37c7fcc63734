"""What a claim is shown with: ``shots`` (which pitches are for it), ``cut_lists``, ``cards``."""
