"""Pure plane geometry in ring coordinates: mm, degrees, y up, angles counter-clockwise from +x."""
