"""See docs/."""
