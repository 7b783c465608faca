"""A fixture as STEP (ISO 10303-21, AP214): named products in millimetres, with their colours.

Several parts, or one in several places, make an assembly of named instances.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from jigs.base import Fixture, FixtureError, Part, Place
from jigs.colours import colour_of
from jigs.placing import location
from jigs.step_order import colours_in_order

if TYPE_CHECKING:
    import cadquery

TIME_STAMP = "2000-01-01T00:00:00"
"""The header must hold a time; a fixed one keeps the file the same from run to run."""
_TEXT_SETTINGS = (("write.step.schema", "AP214IS"), ("write.step.unit", "MM"))
_NUMBER_SETTINGS = (("write.surfacecurve.mode", 0),)
"""Curves on surfaces can be worked out from the edges; leaving them out halves the file."""


def step_bytes(solids: Sequence[tuple[Part, cadquery.Solid]], fixture: Fixture) -> bytes:
    """The STEP file of a fixture, from the solid of each of its parts in its own coordinates.

    Raises:
        FixtureError: the kernel could not write it.
    """
    from OCP.IFSelect import IFSelect_RetDone
    from OCP.Interface import Interface_Static
    from OCP.STEPCAFControl import STEPCAFControl_Writer
    from OCP.STEPControl import STEPControl_AsIs

    writer = STEPCAFControl_Writer()
    writer.SetColorMode(True)
    writer.SetNameMode(True)
    kept = [Interface_Static.SetCVal_s(name, value) for name, value in _TEXT_SETTINGS]
    kept += [Interface_Static.SetIVal_s(name, value) for name, value in _NUMBER_SETTINGS]
    if not all(kept) or not writer.Transfer(_document(solids, fixture), STEPControl_AsIs):
        raise FixtureError(f"{fixture.name}: the CAD kernel could not turn the solid into STEP")
    _count_uses_from_one(writer.ChangeWriter().Model())
    _fill_header(writer, fixture)
    written = io.BytesIO()
    if writer.WriteStream(written) != IFSelect_RetDone:
        raise FixtureError(f"{fixture.name}: the CAD kernel could not write STEP")
    return colours_in_order(written.getvalue())


def _count_uses_from_one(model: Any) -> None:
    """The kernel numbers the uses of parts through all files of a run; here each file's own."""
    from OCP.StepRepr import StepRepr_NextAssemblyUsageOccurrence
    from OCP.TCollection import TCollection_HAsciiString

    entities = (model.Value(i) for i in range(1, model.NbEntities() + 1))
    uses = (one for one in entities if isinstance(one, StepRepr_NextAssemblyUsageOccurrence))
    for number, use in enumerate(uses, start=1):
        use.SetId(TCollection_HAsciiString(str(number)))


def _document(solids: Sequence[tuple[Part, cadquery.Solid]], fixture: Fixture) -> Any:
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDocStd import TDocStd_Document
    from OCP.XCAFDoc import XCAFDoc_DocumentTool

    document = TDocStd_Document(TCollection_ExtendedString("XmlXCAF"))
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    if [part.places for part, _ in solids] == [(Place(),)]:
        ((part, solid),) = solids
        _product(document, part, solid, fixture.title)
        return document
    whole = shapes.NewShape()
    _call(whole, fixture.title)
    for part, solid in solids:
        product = _product(document, part, solid, part.title)
        for number, place in enumerate(part.places, start=1):
            use = shapes.AddComponent(whole, product, location(place).wrapped)
            _call(use, part.title if len(part.places) == 1 else f"{part.title} {number}")
    shapes.UpdateAssemblies()
    return document


def _product(document: Any, part: Part, solid: cadquery.Solid, name: str) -> Any:
    from OCP.Quantity import Quantity_Color, Quantity_TOC_sRGB
    from OCP.XCAFDoc import XCAFDoc_ColorGen, XCAFDoc_DocumentTool

    label = XCAFDoc_DocumentTool.ShapeTool_s(document.Main()).AddShape(solid.wrapped, False)
    _call(label, name)
    colours = XCAFDoc_DocumentTool.ColorTool_s(document.Main())
    colour = Quantity_Color(*colour_of(part.colour), Quantity_TOC_sRGB)
    colours.SetColor(label, colour, XCAFDoc_ColorGen)
    return label


def _call(label: Any, name: str) -> None:
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDataStd import TDataStd_Name

    TDataStd_Name.Set_s(label, TCollection_ExtendedString(name))


def _fill_header(writer: Any, fixture: Fixture) -> None:
    from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
    from OCP.TCollection import TCollection_HAsciiString

    header = APIHeaderSection_MakeHeader(writer.ChangeWriter().Model())
    header.SetName(TCollection_HAsciiString(f"{fixture.name}.step"))
    header.SetTimeStamp(TCollection_HAsciiString(TIME_STAMP))
    header.SetOriginatingSystem(TCollection_HAsciiString("rosette"))
    header.SetPreprocessorVersion(TCollection_HAsciiString("rosette"))
    header.SetDescriptionValue(1, TCollection_HAsciiString(fixture.purpose))
    header.SetAuthorValue(1, TCollection_HAsciiString(""))
    header.SetOrganizationValue(1, TCollection_HAsciiString(""))
