"""Woods: how much water they hold, how far they move, how they look."""
