"""Pages, drawings and tables written to files: each format translates the one display list."""
