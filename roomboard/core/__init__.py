"""The trade as values and pure functions: no window, no files, no clock."""
