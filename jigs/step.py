"""A solid as STEP (ISO 10303-21, AP214): one named product in millimetres, with a colour."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

from jigs.base import Fixture, FixtureError

if TYPE_CHECKING:
    import cadquery

COLOUR = (0.35, 0.7, 0.9)
"""Okabe and Ito's sky blue, as red, green, blue."""
TIME_STAMP = "2000-01-01T00:00:00"
"""The header must hold a time; a fixed one keeps the file the same from run to run."""
_TEXT_SETTINGS = (("write.step.schema", "AP214IS"), ("write.step.unit", "MM"))
_NUMBER_SETTINGS = (("write.surfacecurve.mode", 0),)
"""Curves on surfaces can be worked out from the edges; leaving them out halves the file."""


def step_bytes(solid: cadquery.Solid, fixture: Fixture) -> bytes:
    """The STEP file of a solid.

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
    if not all(kept) or not writer.Transfer(_document(solid, fixture.title), STEPControl_AsIs):
        raise FixtureError(f"{fixture.name}: the CAD kernel could not turn the solid into STEP")
    _fill_header(writer, fixture)
    written = io.BytesIO()
    if writer.WriteStream(written) != IFSelect_RetDone:
        raise FixtureError(f"{fixture.name}: the CAD kernel could not write STEP")
    return written.getvalue()


def _document(solid: cadquery.Solid, title: str) -> Any:
    from OCP.Quantity import Quantity_Color, Quantity_TOC_sRGB
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDataStd import TDataStd_Name
    from OCP.TDocStd import TDocStd_Document
    from OCP.XCAFDoc import XCAFDoc_ColorGen, XCAFDoc_DocumentTool

    document = TDocStd_Document(TCollection_ExtendedString("XmlXCAF"))
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    label = shapes.AddShape(solid.wrapped, False)
    TDataStd_Name.Set_s(label, TCollection_ExtendedString(title))
    colours = XCAFDoc_DocumentTool.ColorTool_s(document.Main())
    colours.SetColor(label, Quantity_Color(*COLOUR, Quantity_TOC_sRGB), XCAFDoc_ColorGen)
    return document


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
