"""The limits of docs/benchmarks.md, each against something measured in the same moment."""

from __future__ import annotations

from pathlib import Path

from tests.benchmarks.measure import (
    DESIGN,
    KERNEL,
    LIBRARIES,
    bare,
    command,
    planning,
    side_by_side,
)


def test_planning_as_a_process_takes_at_most_twice_two_common_imports() -> None:
    plan, libraries = side_by_side(5, command("plan", str(DESIGN)), bare(LIBRARIES))
    assert plan.seconds <= 2.0 * libraries.seconds, (plan, libraries)


def test_one_ring_is_planned_in_under_two_milliseconds() -> None:
    assert planning() < 0.002


def test_a_whole_job_takes_at_most_four_seconds_more_than_loading_the_kernel(
    tmp_path: Path,
) -> None:
    make, kernel = side_by_side(
        2, command("make", str(DESIGN), "--out", str(tmp_path / "job")), bare(KERNEL)
    )
    assert make.seconds <= kernel.seconds + 4.0, (make, kernel)
