"""The desk, the only package that may know Qt."""
