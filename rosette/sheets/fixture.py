"""The drawings of a fixture: from above and in section, with what to make, buy and check.

A fixture of one part takes one sheet. One of several parts has a first sheet that shows them put
together, and further sheets with each part by itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from rosette.plan.model import Plan
from rosette.sheets.block import (
    PAGE_HEIGHT,
    PAGE_WIDTH,
    Block,
    column,
    drawing_of,
    row,
    rows_of,
)
from rosette.sheets.drawing import TRUE_SCALE, Drawing
from rosette.sheets.fixture_assembly import assembly, assembly_view
from rosette.sheets.fixture_checks import is_crowded
from rosette.sheets.fixture_measures import Numbered, numbered, on_its_own
from rosette.sheets.fixture_part import left_to_right, part_view, squared
from rosette.sheets.fixture_stood import Stood, stood
from rosette.sheets.fixture_tables import checks_table, hardware_table, notes, parts_table
from rosette.sheets.fixture_views import FixtureView, PartView

SCALES = (1, 2, 5, 10, 20)
"""Reductions of ISO 5455."""
UPRIGHT = (PAGE_WIDTH, PAGE_HEIGHT)
LYING = (250.0, 160.0)
"""What A4 and Letter both have room for on its side (mm)."""
MOST_SHEETS, FEW_SHEETS_FROM = 4, 2
"""More sheets of parts than this are drawn from 1:2 on, not at true scale."""
ASIDE, LEAST_BESIDE = 10.0, 75.0
"""From a view to the tables beside it, and the least room that tables need there."""
MOST_CHECKS = 28
"""As many sizes to check stand on one sheet of tables."""
LEAD = 4.0
"""From one block to the next below it."""


def drawing(fixture: FixtureView, plan: Plan) -> Drawing:
    """The first sheet of a fixture: where it has one part, the only one."""
    return drawings(fixture, plan)[0]


def drawings(fixture: FixtureView, plan: Plan) -> tuple[Drawing, ...]:
    """Every sheet of a fixture, each on one page, at true scale where that has room."""
    parts = fixture.parts()
    checks = numbered(fixture)
    if len(parts) == 1:
        return tuple(_single(fixture, plan, checks))
    return tuple(_several(fixture, plan, checks))


def _single(fixture: FixtureView, plan: Plan, checks: Sequence[Numbered]) -> Iterator[Drawing]:
    places = stood(fixture.parts())
    for scale in SCALES:
        page = _Page(fixture=fixture, plan=plan, checks=checks, scale=scale, places=places)
        view = page.part(fixture.parts()[0], 1)
        whole = next(filter(_fits, page.layouts(view)), None)
        if whole is not None:
            yield page.sheet(whole)
            return
        if _fits(view) or scale == SCALES[-1]:
            yield page.sheet(view)
            yield from page.tables_sheets()
            return


def _several(fixture: FixtureView, plan: Plan, checks: Sequence[Numbered]) -> Iterator[Drawing]:
    places = stood(fixture.parts())
    seen = assembly(places, fixture.section)
    for scale in SCALES:
        page = _Page(fixture=fixture, plan=plan, checks=checks, scale=scale, places=places)
        view = assembly_view(seen, 1.0 / scale)
        whole = next(filter(_fits, page.layouts(view)), None)
        if whole is not None:
            yield page.sheet(whole)
            break
        if _fits(view) and scale >= FEW_SHEETS_FROM:
            yield page.sheet(view)
            yield from page.tables_sheets()
            break
    for scale in SCALES:
        page = _Page(fixture=fixture, plan=plan, checks=checks, scale=scale, places=places)
        sheets = page.part_sheets()
        few = len(sheets) <= MOST_SHEETS or scale >= FEW_SHEETS_FROM
        if (few and all(map(_fits, sheets))) or scale == SCALES[-1]:
            for place, sheet in enumerate(sheets, start=1):
                of = f" {place} of {len(sheets)}" if len(sheets) > 1 else ""
                yield page.sheet(sheet, f"-parts-{place}", f", parts{of}")
            return


@dataclass(frozen=True, slots=True, kw_only=True)
class _Page:
    """What goes onto a fixture's sheets at one scale."""

    fixture: FixtureView
    plan: Plan
    checks: Sequence[Numbered]
    scale: int
    places: Sequence[Stood]

    def layouts(self, view: Block) -> Iterator[Block]:
        """A view with the tables below it, upright; then beside it or below it, lying."""
        yield column([view, *rows_of(self.tables(UPRIGHT[0]), gap=6.0)], gap=LEAD)
        beside = LYING[0] - view.width - ASIDE
        if beside >= LEAST_BESIDE:
            yield row([view, column(self.tables(beside), gap=LEAD)], gap=ASIDE)
        rows = rows_of(self.tables(LYING[0]), width=LYING[0], gap=6.0)
        yield column([view, *rows], gap=LEAD)

    @property
    def several(self) -> bool:
        """Whether the fixture has more than one part."""
        return len(self.fixture.parts()) > 1

    def tables(self, most: float, checks: Sequence[Numbered] | None = None) -> list[Block]:
        """The tables and the notes, none wider than `most`; of all checks, or of some."""
        wishes, units = self.plan.fixtures, self.plan.units
        shown = self.checks if checks is None else checks
        blocks = (
            parts_table(self.fixture, wishes, units, most),
            hardware_table(self.fixture, most),
            checks_table(shown, units, most, self.several),
            notes(
                wishes,
                units,
                most,
                several=self.several,
                crowded=is_crowded(self.checks),
                scale=f"1:{self.scale}",
            ),
        )
        return [one for one in blocks if one is not None]

    def part_sheets(self) -> list[Block]:
        """Every part by itself, on as few pages as may be."""
        views = [
            self.part(part, number) for number, part in enumerate(self.fixture.parts(), start=1)
        ]
        ways = [_packed(views, page) for page in (UPRIGHT, LYING)]
        return min(ways, key=lambda sheets: (not all(map(_fits, sheets)), len(sheets)))

    def part(self, part: PartView, number: int) -> Block:
        """One part by itself, top up, with its sizes."""
        places = [one for one in self.places if one.number == number]
        own = [one for one in self.checks if one.check.part == part.name]
        start, end = map(places[0].own, self.fixture.section)
        alone = places[0].alone()
        count = f", {len(part.places)} times" if len(part.places) > 1 else ""
        return part_view(
            alone,
            squared(left_to_right((start, end)), alone),
            [on_its_own(one, places) for one in own],
            scale=1.0 / self.scale,
            units=self.plan.units,
            title=f"{number}  {part.name}{count}" if self.several else "",
        )

    def tables_sheets(self) -> Iterator[Drawing]:
        """The tables on sheets of their own, as many as the sizes to check ask for."""
        *first, words = self.tables(UPRIGHT[0], self.checks[:MOST_CHECKS])
        rest = [
            checks_table(
                self.checks[i : i + MOST_CHECKS], self.plan.units, UPRIGHT[0], self.several
            )
            for i in range(MOST_CHECKS, len(self.checks), MOST_CHECKS)
        ]
        start = column(rows_of(first, gap=6.0), gap=LEAD)
        sheets = [start, *(one for one in rest if one is not None)]
        if len(sheets) > 1 and start.height > PAGE_HEIGHT:
            sheets[:1] = [column(rows_of(first[:-1], gap=6.0), gap=LEAD), first[-1]]
        for place, one in enumerate(sheets, start=1):
            suffix = "-check" if place == 1 else f"-check-{place}"
            whole = column([one, words], gap=LEAD)
            made = self.sheet(whole, suffix, ", what to check")
            yield replace(made, document_type="Table")

    def sheet(self, whole: Block, suffix: str = "", words: str = "") -> Drawing:
        """A block as a sheet of this fixture."""
        return drawing_of(
            whole,
            name=f"{self.fixture.name}{suffix}",
            title=f"{self.fixture.title}{words}",
            purpose=self.fixture.purpose,
            document_type=TRUE_SCALE if self.scale == 1 else f"Drawing, scale 1:{self.scale}",
        )


def _packed(views: Sequence[Block], page: tuple[float, float]) -> list[Block]:
    """Views side by side and below one another, on as few pages as their order allows."""
    sheets: list[list[Block]] = []
    for view in views:
        grown = _set_out([*sheets[-1], view], page) if sheets else view
        if sheets and grown.width <= page[0] and grown.height <= page[1]:
            sheets[-1].append(view)
        else:
            sheets.append([view])
    return [_set_out(sheet, page) for sheet in sheets]


def _set_out(views: Sequence[Block], page: tuple[float, float]) -> Block:
    return column(rows_of(views, width=page[0], gap=12.0), gap=8.0)


def _fits(one: Block) -> bool:
    """Whether a block has room on every paper, upright or lying."""
    return any(one.width <= wide and one.height <= high for wide, high in (UPRIGHT, LYING))
