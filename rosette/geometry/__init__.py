"""Pure plane geometry in ring coordinates: millimetres, degrees, y up, angles counter-clockwise from +x."""
