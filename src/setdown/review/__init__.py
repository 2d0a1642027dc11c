"""Review: edit, compare, merge and sign off a routine, with a log that keeps every correction."""
