"""The desk, the only package that may know Qt.

What knows no Qt is loaded first: once Qt is there, its bindings read the source of every module
that imports another, which a start would wait for.
"""

from roomboard.app.starting import kept

with kept():
    import roomboard.core.scheme
    import roomboard.core.variants
    import roomboard.drawing.plain_words
    import roomboard.drawing.set_revision_views
    import roomboard.drawing.views
    import roomboard.storage.project_file  # noqa: F401 - loaded for those that come after
