"""Pens, papers, scales and title-block fields; sources stand in the TOML.

Written by packaging/make_drawing_tables.py; change its sources, not this file.
"""

WIDTHS: dict[str, float] = {
    "narrow": 0.25,
    "wide": 0.5,
    "outline": 0.7,
}
LINETYPES: dict[str, tuple[float, ...]] = {
    "continuous": (),
    "dashed": (12.0, 3.0),
    "long_dash_dot": (24.0, 3.0, 0.5, 3.0),
    "long_dash_double_dot": (24.0, 3.0, 0.5, 3.0, 0.5, 3.0),
    "long_dash_triple_dot": (24.0, 3.0, 0.5, 3.0, 0.5, 3.0, 0.5, 3.0),
    "dotted": (0.5, 3.0),
    "long_dash_short_dash": (24.0, 3.0, 6.0, 3.0),
    "dashed_dot": (12.0, 3.0, 0.5, 3.0),
}
LAYERS: dict[str, tuple[str, str, str, str]] = {
    "outline": ("outline", "continuous", "", "Lining's edge"),
    "opening": ("wide", "continuous", "", "Opening"),
    "joint_recessed": ("wide", "continuous", "R", "Recessed joint"),
    "joint_butt": ("wide", "long_dash_double_dot", "B", "Butt joint"),
    "joint_end_to_recess": ("wide", "long_dash_triple_dot", "E", "End to recess"),
    "joint_cut_edge": ("wide", "long_dash_short_dash", "C", "Cut edge joint"),
    "joint_control": ("wide", "dashed_dot", "CJ", "Control joint"),
    "unlined": ("narrow", "dotted", "", "Not lined in this job"),
    "no_joint": ("narrow", "dotted", "", "No joint in this band"),
    "joist": ("narrow", "dashed", "", "Framing"),
    "trimmer": ("wide", "dashed", "T", "Trimmer to add"),
    "back_block": ("narrow", "dotted", "", "Back-block"),
    "start": ("narrow", "long_dash_dot", "", "Start line"),
    "wall": ("outline", "continuous", "", "Wall"),
    "no_wall": ("narrow", "long_dash_dot", "", "No wall"),
    "column": ("outline", "continuous", "", "Column"),
    "bulkhead": ("narrow", "long_dash_double_dot", "", "Bulkhead"),
    "fold": ("wide", "long_dash_short_dash", "", "Ridge, fold or step of the ceiling"),
    "zone": ("narrow", "long_dash_short_dash", "", "Joist zone"),
    "sheet": ("narrow", "continuous", "", "Sheet"),
    "cut": ("wide", "dashed", "", "Cut, in order"),
    "piece": ("wide", "continuous", "", "Piece"),
    "waste": ("narrow", "continuous", "", "Waste"),
    "fastener": ("wide", "continuous", "", "Fastener"),
    "daub": ("narrow", "continuous", "", "Daub"),
    "bead": ("narrow", "continuous", "", "Bead of adhesive"),
    "packer": ("wide", "continuous", "", "Packer"),
    "match": ("wide", "long_dash_dot", "", "Match line"),
    "dimension": ("narrow", "continuous", "", "Dimension"),
    "cloud": ("wide", "continuous", "", "Changed"),
    "lettering": ("narrow", "continuous", "", "Lettering"),
    "frame": ("outline", "continuous", "", "Frame of the page"),
    "title_block": ("narrow", "continuous", "", "Title block and tables"),
}
HATCHES: dict[str, tuple[tuple[float, ...], float]] = {
    "timber": ((45.0,), 0.9),
    "waste": ((45.0, 135.0), 2.0),
    "special": ((45.0,), 4.0),
}
LETTERING: dict[str, float] = {
    "smallest": 2.5,
    "mark": 3.5,
    "title": 5.0,
}
STANDARDS: tuple[tuple[str, str, str], ...] = (
    ("ISO 128-2", "2022", "memory"),
    ("ISO 129-1", "2018", "memory"),
    ("ISO 3098-1", "2015", "memory"),
    ("ISO 5457", "1999", "memory"),
    ("ISO 216", "2007", "memory"),
    ("ANSI/ASME Y14.1", "", "memory"),
    ("ISO 5455", "1979", "memory"),
    ("ISO 7200", "2004", "secondary"),
    ("ASME Y14.35", "2014", "memory"),
)
DIMENSION: dict[str, float] = {
    "tick": 1.2,
    "pitch": 4.5,
}
MARGINS: dict[str, float] = {
    "filing": 20.0,
    "other": 10.0,
}
CENTRING: float = 5.0
GRID_FIELD: float = 50.0
GRID_LETTER: float = 3.5
GRID_TICK: float = 5.0
GRID_PAPERS: tuple[str, ...] = ("A3", "Tabloid")
PAPERS: dict[str, tuple[float, float, str]] = {
    "A4": (210.0, 297.0, "metric"),
    "A3": (420.0, 297.0, "metric"),
    "Letter": (215.9, 279.4, "imperial"),
    "Tabloid": (431.8, 279.4, "imperial"),
}
LIST_PAPERS: dict[str, str] = {
    "A4": "A4",
    "A3": "A4",
    "Letter": "Letter",
    "Tabloid": "Letter",
}
SCALES: tuple[tuple[str, float, str], ...] = (
    ("metric", 10.0, "1:10"),
    ("metric", 20.0, "1:20"),
    ("metric", 25.0, "1:25"),
    ("metric", 50.0, "1:50"),
    ("metric", 75.0, "1:75"),
    ("metric", 100.0, "1:100"),
    ("metric", 125.0, "1:125"),
    ("metric", 200.0, "1:200"),
    ("metric", 500.0, "1:500"),
    ("imperial", 12.0, '1:12 (1" = 1\' 0")'),
    ("imperial", 24.0, '1:24 (1/2" = 1\' 0")'),
    ("imperial", 32.0, '1:32 (3/8" = 1\' 0")'),
    ("imperial", 48.0, '1:48 (1/4" = 1\' 0")'),
    ("imperial", 64.0, '1:64 (3/16" = 1\' 0")'),
    ("imperial", 96.0, '1:96 (1/8" = 1\' 0")'),
    ("imperial", 128.0, '1:128 (3/32" = 1\' 0")'),
    ("imperial", 192.0, '1:192 (1/16" = 1\' 0")'),
    ("imperial", 480.0, '1:480 (1" = 40\' 0")'),
)
TITLE_BLOCK_WIDTH: float = 180.0
TITLE_BLOCK: tuple[tuple[str, str, int, float], ...] = (
    ("owner", "Project", 1, 0.5),
    ("title", "Title", 1, 0.5),
    ("room", "Room", 2, 0.3),
    ("board", "Board", 2, 0.5),
    ("finish", "Finish", 2, 0.2),
    ("scale", "Scale", 3, 0.36),
    ("units", "Units", 3, 0.16),
    ("measured", "Measured", 3, 0.48),
    ("document", "Document", 4, 0.36),
    ("creator", "Made with", 4, 0.27),
    ("approved", "Approved", 4, 0.37),
    ("identification", "No.", 5, 0.39),
    ("date", "Date of issue", 5, 0.29),
    ("revision", "Rev.", 5, 0.11),
    ("sheet", "Sheet", 5, 0.21),
)
