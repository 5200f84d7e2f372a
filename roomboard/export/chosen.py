"""One drawing chosen by its name, at the largest standard scale at which it fits a paper."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from roomboard.core.project import Units
from roomboard.core.scheme import RoomScheme, Scheme, SurfaceScheme
from roomboard.core.units import on_tape, write_mass
from roomboard.drawing.abreast import Named, abreast, is_ceiling, surface_views
from roomboard.drawing.cut_list import edge_letters, sheets_by_piece
from roomboard.drawing.layered import layered_name
from roomboard.drawing.lining import FIXING, FRAMING, SHEETING, Show
from roomboard.drawing.opened_out import opened_out
from roomboard.drawing.paper import Paper, Scale
from roomboard.drawing.room_names import board_name
from roomboard.drawing.set_choice import PageKind
from roomboard.drawing.set_revision_views import laid_over
from roomboard.drawing.view import View
from roomboard.drawing.views import ceiling_view, cut_view, face_view, plan_view
from roomboard.export.dxf import PieceData

VIEWS = ("opened out", "plan", "ceiling", "ceiling from below", "cut")
"""Names of drawings; a wall's letter or the name of any face is one as well."""
OVER = ", second layer"
"""Added to the name of a drawing, it shows the second layer where two are hung."""
FINEST = 20.0
"""Nothing is drawn larger than this: it would say no more."""
USUAL = 24.0
"""Surfaces beside each other are drawn at the largest scale that is no larger than this."""


class NotThereError(ValueError):
    """What was asked for is not there; the text says what is."""


def rooms_called(scheme: Scheme, name: str) -> tuple[RoomScheme, ...]:
    """Return the rooms of a name or id; all where none is given.

    Raises:
        NotThereError: If there is no such room.
    """
    if not name:
        return scheme.rooms
    wanted = name.strip().casefold()
    found = [r for r in scheme.rooms if wanted in {r.room.id.casefold(), r.room.name.casefold()}]
    if not found:
        names = ", ".join(f"“{r.room.name}”" for r in scheme.rooms)
        known = f"the rooms are {names}" if names else "measure a room first"
        raise NotThereError(f"There is no room “{name}”; {known}.")
    return tuple(found)


def view_named(
    scheme: Scheme, name: str, room: str, paper: Paper, *, fixings: bool = False
) -> tuple[str, View]:
    """Return one drawing and its title.

    Args:
        scheme: The whole answer.
        name: One of :data:`VIEWS`, with :data:`OVER` added for the second layer, a wall's
            letter, or the name of a face.
        room: Name or id of its room; may be empty where the project has only one.
        paper: What it is to fit.
        fixings: Whether to draw every fastener and daub.

    Raises:
        NotThereError: If there is no such drawing; the text names those there are.
    """
    title, draw = _drawing_named(scheme, name, room, FIXING if fixings else SHEETING)
    view = fitted(draw, paper)
    if not view.marks:
        raise NotThereError(f"There is nothing to draw of “{title}” yet.")
    return title, laid_over(scheme, view)


def _drawing_named(
    scheme: Scheme, name: str, room: str, show: Show
) -> tuple[str, Callable[[float], View]]:
    """Return the title of a drawing and what makes it for a scale."""
    wanted = " ".join(name.replace("-", " ").replace("_", " ").split()).casefold()
    units = scheme.project.units
    if wanted == "cut":
        ids = [r.room.id for r in rooms_called(scheme, room)] if room else [""]

        def cut(scale: float) -> View:
            return cut_view(scheme, units, scale, room=ids[0])

        return "Cutting the stock sheets", cut
    (found,) = _one_room(scheme, room)
    title = found.room.name
    plain = wanted.removesuffix(OVER)
    if plain in VIEWS:
        if plain != wanted and all(s.surface.layers == 1 for s in found.surfaces):
            raise NotThereError(f"No face of {title} has a second layer; ask for “{plain}”.")
        show = replace(show, layer=1 if plain == wanted else 2)
        return f"{title}: {wanted}", _drawing(found, plain, units, show)
    parts = _faces(found, name)
    if not parts:
        raise NotThereError(
            f"There is no drawing “{name}” of {title}; there are {', '.join(VIEWS)}, "
            f"and its faces {', '.join(_face_names(found))}."
        )

    def faces(scale: float) -> View:
        views = [
            Named(
                caption=layered_name(p.surface), view=face_view(p, found.room, units, scale, show)
            )
            for p in parts
        ]
        return views[0].view if len(views) == 1 else abreast([views], scale)

    return f"{title}: {parts[0].surface.name}", faces


@dataclass(frozen=True, slots=True, kw_only=True)
class Surfaces:
    """Which surfaces are to be drawn, and how.

    Attributes:
        rooms: Names or ids of their rooms; empty for all.
        kinds: Which of the pages that show surfaces they are on; empty for all.
        scale: How many mm of the room one mm of paper is; 0 to choose.
        fixings: Whether every fastener and daub is drawn as well.
    """

    rooms: tuple[str, ...] = ()
    kinds: tuple[PageKind, ...] = ()
    scale: float = 0.0
    fixings: bool = False

    @property
    def show(self) -> Show:
        """What drawings of surfaces show."""
        return replace(SHEETING, fixings=self.fixings or PageKind.FIXINGS in self.kinds)

    def rooms_of(self, scheme: Scheme) -> tuple[RoomScheme, ...]:
        """Return the rooms, in the scheme's order.

        Raises:
            NotThereError: If there is no such room.
        """
        found = [r for name in self.rooms or ("",) for r in rooms_called(scheme, name)]
        return tuple(r for r in scheme.rooms if r in found)

    def takes(self, s: SurfaceScheme) -> bool:
        """Tell whether a surface is to be drawn."""
        chosen = {k for k in self.kinds if k in SURFACE_KINDS}
        return not chosen or (PageKind.CEILINGS if is_ceiling(s) else PageKind.WALLS) in chosen


SURFACE_KINDS = (PageKind.CEILINGS, PageKind.WALLS)
"""The kinds of pages that show surfaces one by one."""


def all_surfaces(
    scheme: Scheme, wanted: Surfaces, paper: Paper, largest: float = USUAL
) -> tuple[str, View]:
    """Return surfaces of the job side by side, a row for each room.

    Args:
        scheme: The whole answer.
        wanted: Which, and how.
        paper: Whose scales are used.
        largest: How many mm of the room one mm of paper is at least, where none is wanted.

    Raises:
        NotThereError: If there is no such room, or nothing to draw.
    """
    rooms = wanted.rooms_of(scheme)
    least = wanted.scale or largest
    scale = next((s.ratio for s in _scales(paper) if s.ratio >= least - 0.01), least)
    units = scheme.project.units
    found = (
        surface_views(
            replace(r, surfaces=tuple(s for s in r.surfaces if wanted.takes(s))),
            units,
            scale,
            wanted.show,
        )
        for r in rooms
    )
    rows = [row for row in found if row]
    if not rows:
        raise NotThereError(NOTHING)
    parts = [scheme.project.name, *(r.room.name for r in rooms if wanted.rooms)]
    return ", ".join(parts), laid_over(scheme, abreast(rows, scale))


NOTHING = "There is no surface to draw yet: measure a room first."


@dataclass(frozen=True, slots=True, kw_only=True)
class OneSurface:
    """The drawing of one surface, for a file of its own.

    Attributes:
        part: What its file is called by: room and surface, unlike any other of the job.
        title: What it is called.
        view: The drawing.
    """

    part: str
    title: str
    view: View


def each_surface(
    scheme: Scheme,
    wanted: Surfaces,
    paper: Paper,
    step: Callable[[str, int, int], None] | None = None,
) -> tuple[OneSurface, ...]:
    """Return surfaces one by one, each at the largest standard scale at which it fits a paper.

    Args:
        scheme: The whole answer.
        wanted: Which, and how; a scale that is wanted is kept to.
        paper: What each is to fit.
        step: Told before each which it is, how many are done and how many there are.

    Raises:
        NotThereError: If there is no such room, or nothing to draw.
    """
    units = scheme.project.units
    chosen = [(r, s) for r in wanted.rooms_of(scheme) for s in r.surfaces if wanted.takes(s)]
    if not chosen:
        raise NotThereError(NOTHING)
    found: list[OneSurface] = []
    taken: set[str] = set()
    for number, (r, s) in enumerate(chosen):
        title = f"{r.room.name}: {s.surface.name}"
        if step is not None:
            step(title, number, len(chosen))
        draw = _one_surface(r, s, units, wanted.show)
        view = draw(wanted.scale) if wanted.scale else fitted(draw, paper)
        view = laid_over(scheme, view)
        found.append(OneSurface(part=_file_name(title, taken), title=title, view=view))
    return tuple(found)


def _one_surface(
    room: RoomScheme, s: SurfaceScheme, units: Units, show: Show
) -> Callable[[float], View]:
    alone = replace(room, surfaces=(s,))

    def draw(scale: float) -> View:
        if is_ceiling(s):
            return ceiling_view(alone, units, scale, show)
        return face_view(s, room.room, units, scale, show)

    return draw


def _file_name(title: str, taken: set[str]) -> str:
    """Return words for the name of a file, unlike those taken, and take them."""
    plain = unicodedata.normalize("NFKD", title).casefold()
    words = "".join(c if c.isascii() and c.isalnum() else " " for c in plain).split()
    name = stem = "-".join(words) or "surface"
    number = 2
    while name in taken:
        name, number = f"{stem}-{number}", number + 1
    taken.add(name)
    return name


def piece_data(scheme: Scheme) -> dict[str, PieceData]:
    """Return what drawing programs are told of each piece of board, by its id."""
    units = scheme.project.units
    where = sheets_by_piece(scheme)
    found: dict[str, PieceData] = {}
    for room in scheme.rooms:
        for s in room.surfaces:
            for piece in s.set_out.pieces:
                sheet, placement = where.get(piece.id, (None, None))
                low, high = edge_letters(piece, placement)
                facts = (
                    ("ROOM", room.room.name),
                    ("SURFACE", s.surface.name),
                    ("BOARD", board_name(scheme, piece.board)),
                    ("LENGTH", on_tape(piece.length, units)),
                    ("WIDTH", on_tape(piece.width, units)),
                    ("LOW_EDGE", low),
                    ("HIGH_EDGE", high),
                    ("SHEET", sheet.id if sheet else ""),
                    ("MASS", write_mass(piece.mass_kg, units)),
                )
                found[piece.id] = PieceData(mark=piece.mark, facts=facts)
    return found


# --- scales -------------------------------------------------------------------------------


def fitted(draw: Callable[[float], View], paper: Paper) -> View:
    """Return a drawing at the largest scale at which it fits a paper's frame.

    Args:
        draw: Makes it for a scale, mm of the room to one mm of paper.
        paper: The paper; the drawing may be turned on it.
    """
    x0, y0, x1, y1 = paper.frame
    short, long = sorted((x1 - x0, y1 - y0))
    view: View | None = None
    for scale in _scales(paper):
        view = draw(scale.ratio)
        a, b, c, d = view.bounds
        low, high = sorted((c - a, d - b))
        if low / scale.ratio <= short and high / scale.ratio <= long:
            break
    if view is None:
        raise ValueError("a drawing needs at least one scale")
    return view


def _scales(paper: Paper) -> Sequence[Scale]:
    return [s for s in paper.scales if s.ratio >= FINEST - 0.01]


# --- rooms and faces ------------------------------------------------------------------------


def _one_room(scheme: Scheme, name: str) -> tuple[RoomScheme]:
    rooms = rooms_called(scheme, name)
    if len(rooms) != 1:
        if not rooms:
            raise NotThereError("There is no room to draw yet: measure one first.")
        names = ", ".join(f"“{r.room.name}” ({r.room.id})" for r in rooms)
        raise NotThereError(f"Say which room is to be drawn; the rooms are {names}.")
    return (rooms[0],)


def _drawing(room: RoomScheme, name: str, units: Units, show: Show) -> Callable[[float], View]:
    def draw(scale: float) -> View:
        if name == "opened out":
            return opened_out(room, units, scale, show)
        if name == "plan":
            return plan_view(room, units, scale, FRAMING)
        below = name == "ceiling from below"
        return ceiling_view(room, units, scale, show, from_below=below)

    return draw


def _faces(room: RoomScheme, name: str) -> list[SurfaceScheme]:
    """Return the surfaces of a wall by its letter, or the face of a name or key."""
    wanted = name.strip().casefold()
    walls = {w.id for w in room.room.walls if wanted in {w.id.casefold(), w.name.casefold()}}
    keys = {f"wall:{wall}" for wall in walls}
    found = [s for s in room.surfaces if s.surface.key.partition(".")[0] in keys]
    return found or [
        s for s in room.surfaces if wanted in {s.surface.name.casefold(), s.surface.key.casefold()}
    ]


def _face_names(room: RoomScheme) -> list[str]:
    walls = {f"wall:{w.id}": w.name or w.id for w in room.room.walls}
    names = (
        walls.get(s.surface.key.partition(".")[0], s.surface.name)
        for s in room.surfaces
        if not is_ceiling(s)
    )
    return [f"“{name}”" for name in dict.fromkeys(names)]
