"""The limits of docs/benchmarks.md, each against something measured in the same moment.

The processor's seconds are compared, not the clock's: other tests run beside these.
"""

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
    assert plan.worked <= 2.0 * libraries.worked, (plan, libraries)


def test_one_ring_is_planned_in_under_two_milliseconds() -> None:
    assert planning() < 0.002


def test_a_whole_job_takes_at_most_three_times_what_loading_the_kernel_takes(
    tmp_path: Path,
) -> None:
    """Four seconds more, on a machine that loads the kernel in two."""
    make, kernel = side_by_side(
        2, command("make", str(DESIGN), "--out", str(tmp_path / "job")), bare(KERNEL)
    )
    assert make.worked <= 3.0 * kernel.worked, (make, kernel)
