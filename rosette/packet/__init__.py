"""Everything for one job into one folder, all or nothing."""

from __future__ import annotations

from rosette.packet.job import Job, Progress, make_job

__all__ = ["Job", "Progress", "make_job"]
