"""Plan → fixtures → STEP, STL, 3MF: the only place that loads the CAD kernel."""
