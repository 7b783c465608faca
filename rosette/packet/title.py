"""What the title blocks of one job say."""

from __future__ import annotations

from rosette.plan.model import Plan
from rosette.sheets.frame import TitleBlock


def title_block(plan: Plan, sheet: str = "") -> TitleBlock:
    """The job's own fields; each sheet adds its title and number."""
    job = plan.job
    return TitleBlock(
        name=plan.name,
        owner=job.owner,
        creator=job.creator,
        number=job.number,
        date=job.date,
        sheet=sheet,
    )
