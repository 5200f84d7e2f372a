"""What is drawn, as lists of strokes, fills and lettering in mm; no output format is known here."""
