"""Presets: weights for what people ask for, in plain words."""

from __future__ import annotations

from roomboard.core.project import Weights

PRESETS: tuple[tuple[str, Weights], ...] = (
    ("balanced", Weights()),
    (
        "fewest butts",
        Weights(
            board=0.2,
            butt=5.0,
            recessed=0.1,
            end_to_recess=2.0,
            piece=0.1,
            cut=0.0,
            lift=0.0,
            middle=0.5,
            light=0.5,
        ),
    ),
    (
        "least board",
        Weights(
            board=1.0,
            butt=0.05,
            recessed=0.01,
            end_to_recess=0.05,
            piece=0.02,
            cut=0.0,
            lift=0.0,
            middle=0.01,
            light=0.01,
        ),
    ),
    (
        "lightest lifts",
        Weights(
            board=0.3,
            butt=0.3,
            recessed=0.1,
            end_to_recess=0.3,
            piece=0.05,
            cut=0.0,
            lift=1.0,
            middle=0.1,
            light=0.1,
        ),
    ),
)
"""Each preset's name and weights; preferences of this program and not figures of practice."""


def preset(name: str) -> Weights:
    """Return the weights of a preset.

    Raises:
        KeyError: If there is none of this name.
    """
    return dict(PRESETS)[name]
