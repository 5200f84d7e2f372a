"""What stands round the canvas."""
