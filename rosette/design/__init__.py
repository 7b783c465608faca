"""The design file: what stands in it, and how it is read with every finding at once."""

from __future__ import annotations

from rosette.design.read import read_design, read_design_text

__all__ = ["read_design", "read_design_text"]
