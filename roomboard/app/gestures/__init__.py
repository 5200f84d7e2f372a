"""What the mouse and the keys do on the canvas: one object for each gesture."""
