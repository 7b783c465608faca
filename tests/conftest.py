"""Settings that every test shares."""

from __future__ import annotations

import os

from hypothesis import settings

# How long an example takes says more about what else the machine does than about the code.
settings.register_profile("check", deadline=None)
# One answer for one commit: new examples are looked for at home, where somebody looks at them.
settings.register_profile("ci", deadline=None, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "check")
