"""Ring patterns of a workshop of its own."""
