"""The one place that runs the typesetter: our fonts only, no clock, no network."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, Literal

from rosette.lettering import FOLDER, font_path

_HERE = Path(__file__).parent


def typeset(template: str, data: dict[str, Any], *, ppi: float | None = None) -> bytes:
    """Compile a template beside this file with `data`; PDF, or PNG where `ppi` is given.

    The same template and data give the same bytes: no date is written.
    """
    import typst

    for bold in (False, True):
        font_path(bold)  # a missing font would be replaced without a word
    kind: Literal["pdf", "png"] = "pdf" if ppi is None else "png"
    made = typst.compile(
        _HERE / template,
        font_paths=[FOLDER],
        ignore_system_fonts=True,
        format=kind,
        ppi=ppi,
        sys_inputs={"data": json.dumps(data, ensure_ascii=False)},
        pdf_tags=False,
    )
    if not isinstance(made, bytes):
        raise TypeError(f"{template} filled more than one picture")
    return made
