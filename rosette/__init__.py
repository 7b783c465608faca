"""Rosette: from a design file to everything a guitar maker takes to the bench.

Millimetres and degrees throughout; see docs/glossary.md for the names.
"""

__version__ = "0.1.0"
