"""The canvas: painter of the display lists, with a viewport and picking."""
