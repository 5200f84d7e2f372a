"""One sentence for the homeowner about everything that is drawn, and the term it belongs to."""

from __future__ import annotations

from roomboard.core.fixings import Role
from roomboard.core.joints import JointKind
from roomboard.core.project import OpeningKind
from roomboard.core.support import TrimmerReason
from roomboard.core.surface import SupportKind

JOINTS: dict[JointKind, tuple[str, str, str]] = {
    JointKind.RECESSED: (
        "Recessed joint",
        (
            "Two thinned edges meet here and make a shallow trough, so that tape and compound can "
            "be filled flush and the joint disappears."
        ),
        "recessed-edge",
    ),
    JointKind.BUTT_FRAMED: (
        "Butt joint",
        (
            "Two sheet ends without a recess meet on timber; filler stands proud of the board "
            "here, so it is feathered out wide and kept to as few places as can be."
        ),
        "butt-joint",
    ),
    JointKind.BUTT_BACK_BLOCKED: (
        "Butt joint on a back-block",
        (
            "Two sheet ends meet between members and are glued to a strip of board behind them, "
            "which keeps them level as the timber moves."
        ),
        "back-block",
    ),
    JointKind.BUTT_UNBACKED: (
        "Butt joint without backing",
        (
            "Two sheet ends meet here with nothing behind them; such a joint cracks sooner or "
            "later, so it should be moved or backed."
        ),
        "butt-joint",
    ),
    JointKind.END_TO_RECESS: (
        "End-to-recess joint",
        (
            "A sheet end meets the thinned edge of another sheet, so the filler has a trough on "
            "one side only and takes more care."
        ),
        "end-to-recess",
    ),
    JointKind.CUT_EDGE: (
        "Cut edge joint",
        (
            "At least one edge here was cut, so there is no full trough for the filler and the "
            "joint is feathered out wide."
        ),
        "cut-edge",
    ),
    JointKind.CONTROL: (
        "Control joint",
        "A gap left on purpose under a bead, so that a long lining can move without cracking.",
        "control-joint",
    ),
}
"""Name, sentence and term of each kind of joint."""

REASONS: dict[TrimmerReason, str] = {
    TrimmerReason.WALL_ALONG_JOISTS: (
        "because the wall runs along the joists and the sheet edge has nothing to fix to"
    ),
    TrimmerReason.DIRECTION_CHANGE: (
        "because the joists change direction and the sheets' edges have nothing to fix to"
    ),
    TrimmerReason.HATCH: "because the edge of the hatch has nothing to fix to",
    TrimmerReason.END_OFF_SUPPORT: (
        "because the sheet end falls between members and has nothing to fix to"
    ),
    TrimmerReason.EDGE_OFF_SUPPORT: "because the sheet edge has nothing to fix to",
    TrimmerReason.BATTENING: "because the sheets run on where the joists turn",
}
"""Why each kind of missing timber is needed."""
TRIMMER = (
    "Timber that is missing today and has to be fixed before the boards arrive; without it the "
    "edge of the lining would hang free and crack."
)
NOGGING = (
    "A short timber between two members that is missing today and has to be fixed before the "
    "boards arrive, so that the edge of the lining does not hang free."
)

SUPPORTS: dict[SupportKind, tuple[str, str, str]] = {
    SupportKind.JOIST: (
        "Joist",
        "A timber that carries the ceiling; the sheets are fixed to its underside.",
        "joist",
    ),
    SupportKind.BATTEN: (
        "Batten",
        "A strip fixed across the timbers above, to which the sheets of the ceiling are fixed.",
        "batten",
    ),
    SupportKind.TRUSS: (
        "Truss",
        "The lower member of a roof truss, to which the sheets are fixed; it is never cut.",
        "truss",
    ),
    SupportKind.STUD: (
        "Stud",
        "An upright of the wall's frame; the sheets are fixed to its face.",
        "stud",
    ),
    SupportKind.PLATE: (
        "Plate",
        (
            "The timber along the top or the foot of the wall's frame, on which the studs stand or "
            "which lies on them."
        ),
        "plate",
    ),
    SupportKind.JAMB: (
        "Stud beside an opening",
        "The upright at the side of a door or window; the edge of the board is fixed to it.",
        "jamb",
    ),
    SupportKind.HEAD: (
        "Timber over an opening",
        "The level timber over a door or window; it carries load, so it is never cut.",
        "head",
    ),
    SupportKind.SILL: (
        "Timber under a window",
        "The level timber under a window, to which the edge of the board is fixed.",
        "sill",
    ),
    SupportKind.NOGGING: (
        "Nogging",
        "A short level timber between studs that stiffens the wall and backs the board.",
        "nogging",
    ),
    SupportKind.TRIMMER: ("Trimmer", TRIMMER, "trimmer"),
}
"""Name, sentence and term of each kind of framing."""

OPENINGS: dict[OpeningKind, tuple[str, str]] = {
    OpeningKind.DOOR: (
        (
            "The board is cut round the door; no joint should run on from its corners, where the "
            "lining cracks first."
        ),
        "reveal",
    ),
    OpeningKind.WINDOW: (
        (
            "The board is cut round the window; no joint should run on from its corners, where the "
            "lining cracks first."
        ),
        "reveal",
    ),
    OpeningKind.OPENING: (
        "A way through without a door; its edges are beaded so that they stand up to knocks.",
        "bead",
    ),
    OpeningKind.HATCH: (
        "The way into the roof space; all four sides of its hole need timber to fix to.",
        "hatch",
    ),
    OpeningKind.LIGHT: (
        (
            "A hole for a light, cut where the drawing of the piece gives its middle; the "
            "electrician makes sure that the cable is dead and out of the way."
        ),
        "cut-out",
    ),
    OpeningKind.DUCT: (
        "A hole for a duct, cut where the drawing of the piece gives its place.",
        "cut-out",
    ),
}
"""Sentence and term of each kind of opening."""

ROLES: dict[Role, str] = {
    Role.FIELD: "in the middle of the board",
    Role.CENTRE: "along the middle of the board",
    Role.EDGE: "along a long edge",
    Role.END: "along a sheet end",
    Role.BUTT: "along a butt joint",
    Role.OPENING: "round an opening",
    Role.CORNER: "in a corner",
    Role.LAMINATING: "into a back-block",
    Role.TEMPORARY: "holding the board while the adhesive sets",
}
"""Where each kind of fastener stands."""
FASTENERS = {"screw": "Screw", "nail": "Nail", "laminating_screw": "Laminating screw"}
"""What each kind of fastener is called."""
FASTENER = (
    "It is driven until its head just dimples the paper; one that breaks the paper holds nothing "
    "and is done again beside it."
)
DAUB = (
    "A walnut of adhesive between board and timber that lets fewer heads show; it stays clear of "
    "the screws and of the edges."
)
BACK_BLOCK = (
    "A strip of board glued across the back of a joint between the members, so that both sheets "
    "move as one and the joint does not crack."
)
PIECE = (
    "One piece of plasterboard as it is lifted into place; its mark is written on it when it is "
    "cut and says where it goes."
)
START = (
    "A line snapped across the framing before the first sheet goes up; the first course is held to "
    "it, and every other follows."
)
PACKER = (
    "Offcuts under the bottom sheets that hold them off the floor, so that the board cannot soak "
    "up water."
)
FLOOR = "The floor; the board stops a little above it and the skirting covers the gap."
WALL = "One side of the room, called by its letter on every drawing."
NO_WALL = "An open side of the room: there is no wall here to line."
CEILING_FACE = (
    "The whole ceiling; it is sheeted before the walls, so that the wall boards help to hold its "
    "edges."
)
WALL_FACE = (
    "A whole wall as it is lined; its boards go up after the ceiling and are pushed up to it."
)
OTHER_FACE = "A face that turns out of a wall or ceiling and is lined with pieces of its own."
BULKHEAD = (
    "A boxed-down part under the ceiling, such as one that hides a pipe or carries a row of "
    "cupboards; its faces are lined with pieces of their own."
)
COLUMN = (
    "A boxed post that stands in the room; its sides are lined and the ceiling is cut round it."
)
ROOM = "The room as it was measured, from frame to frame."
ZONE = (
    "A part of the ceiling whose members all run one way; the sheets of each part run across them."
)
BAND = (
    "The frame moves here, as at the floor line of a stairwell: a joint in the board would crack, "
    "so sheets bridge it whole."
)
SPECIAL = (
    "This lining follows documents of its own, which go before anything drawn here; ask for them "
    "before you order."
)
LENGTH = "A length as it was measured; the far side moves when it is changed."
HEIGHT = "From the floor to the framing of the ceiling, as it was measured."
FOLD = "This wall was moved out so that it does not lie on another; the lines lead to its place."
DIMENSION = "A length between two lines of the drawing."
NOTE = "A note that belongs to the drawing."
CUT = "Score the face, snap the board away from you and cut the paper at the back, in this order."
WASTE = "What is too small to be kept; gypsum goes to a tip that takes it by itself."
OFFCUT = "What is left and worth keeping: it saves part of a sheet elsewhere."
BLOCK_STOCK = "What is left of the sheet and is cut into back-blocks."
ON_SITE = "An offcut that lies on site: it is cut from before any sheet is bought."
SHEET = "A sheet as it is bought; carry it on edge, two people to a long one."
RECESS = "The long edges of a new sheet are thinned on the face, to take tape and compound."
