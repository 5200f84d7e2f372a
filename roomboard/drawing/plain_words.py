"""Everything on a view named in plain words, with its figures and a sentence for the homeowner."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from roomboard.core.cutting import CutPlan
from roomboard.core.heights import is_ceiling
from roomboard.core.heights_tops import tops
from roomboard.core.joints import Joint
from roomboard.core.plane import distance
from roomboard.core.project import OpeningKind, Project, Room, WallKind
from roomboard.core.scheme import RoomScheme, SurfaceScheme
from roomboard.core.start_lines import start_lines
from roomboard.core.units import write_area
from roomboard.core.wording import say
from roomboard.drawing import plain_sentences as sentences
from roomboard.drawing.layers import LAYERS
from roomboard.drawing.lining import BAND, BREACH, JOINT_LAYERS, OPENING_WORDS, ZONE_WORDS, blocking
from roomboard.drawing.picking import SURFACE, Picked
from roomboard.drawing.plain_asking import Asked, Named, piece_named
from roomboard.drawing.plain_boxes import bulkhead_named, column_named
from roomboard.drawing.plain_measures import dimension_named
from roomboard.drawing.plain_sheets import ON_SHEET, name_on_sheet
from roomboard.drawing.plain_supports import WHOLE, support_words
from roomboard.drawing.raked import FOLD, climbs, slope_words

__all__ = ["Named", "named", "support_words"]


def named(
    picked: Picked,
    room_scheme: RoomScheme | None,
    project: Project,
    plan: CutPlan | None = None,
) -> Named:
    """Name something on a view.

    Args:
        picked: What was picked.
        room_scheme: The room shown, or None on a view of stock sheets.
        project: The project, for its units.
        plan: The cut plan, for figures on a view of stock sheets.

    Returns:
        Its name; for something the scheme no longer has, the words of its layer.
    """
    asked = Asked(picked, room_scheme, project, plan)
    if picked.key.startswith(ON_SHEET):
        found = name_on_sheet(asked)
    else:
        found = _NAMERS.get(picked.layer, _no_name)(asked)
    layer = LAYERS.get(picked.layer)
    return found or Named(title=layer.words if layer else picked.layer)


def _no_name(_: Asked) -> Named | None:
    return None


def _first(found: Iterable[Named]) -> Named | None:
    return next(iter(found), None)


# --- faces and pieces -------------------------------------------------------------------


def _surface(asked: Asked) -> Named | None:
    for face in asked.faces:
        surface = face.surface
        if surface.ref == asked.ref:
            u0, v0, u1, v1 = surface.outline.bounds
            area = write_area(surface.area_m2, asked.project.units)
            sentence, term = sentences.OTHER_FACE, "bulkhead"
            if surface.key.startswith("reveal:"):
                term = "reveal"
            elif surface.lettered:
                sentence, term = sentences.WALL_FACE, "lining"
            elif is_ceiling(surface.key):
                sentence, term = sentences.CEILING_FACE, "lining"
            return Named(
                title=surface.name,
                figures=f"{asked.size(u1 - u0, v1 - v0)}, {area} to line",
                sentence=sentence,
                term=term,
            )
    return None


def _fold(asked: Asked) -> Named | None:
    """Name the part of a ceiling whose line is pointed at, with its pitch."""
    for face in asked.faces:
        surface = face.surface
        if surface.key == asked.ref:
            u0, v0, u1, v1 = surface.outline.bounds
            area = write_area(surface.area_m2, asked.project.units)
            figures = f"{asked.size(u1 - u0, v1 - v0)}, {area} to line"
            if climbs(surface):
                figures = slope_words(surface, asked.project.units)
            return Named(title=surface.name, figures=figures, sentence=sentences.CEILING_FACE)
    return None


def _piece(asked: Asked) -> Named | None:
    for face in asked.faces:
        for piece in face.set_out.pieces:
            if piece.id == asked.ref:
                return piece_named(asked, piece)
    if asked.room and asked.ref == asked.room.id:
        return Named(title=f"Outline of {asked.room.name}", sentence=sentences.ROOM, term="frame")
    return None


def _zone(asked: Asked) -> Named | None:
    for face in asked.faces:
        for band in face.surface.bands:
            if asked.ref == f"{BAND}{band.id}":
                return Named(
                    title=f"Band {band.id} without joints",
                    figures=f"{asked.mm(band.low)} to {asked.mm(band.high)} above the floor",
                    sentence=sentences.BAND,
                )
        if face.surface.ref == asked.ref:
            kinds = [ZONE_WORDS.get(k, k) for k in face.surface.special]
            return Named(
                title=f"{face.surface.name}: {', '.join(kinds)}", sentence=sentences.SPECIAL
            )
        for zone in face.surface.zones:
            if zone.id and zone.id == asked.ref:
                figures = f"{asked.mm(zone.centres)} centres" if zone.centres else ""
                return Named(
                    title="Joists" if zone.id in WHOLE else f"Joist zone {zone.id}",
                    figures=figures,
                    sentence=sentences.ZONE,
                    term="joist",
                )
    return None


# --- framing ----------------------------------------------------------------------------


def _support(asked: Asked) -> Named | None:
    for face in asked.faces:
        for support in face.surface.supports:
            if support.id == asked.ref and support.existing:
                _, sentence, term = sentences.SUPPORTS[support.kind]
                long = asked.mm(distance(support.a, support.b))
                figures = f"{long} long, {asked.mm(support.face)} wide"
                return Named(
                    title=support_words(support, alone=len(face.surface.zones) == 1),
                    figures=figures,
                    sentence=sentence,
                    term=term,
                )
    return None


def _trimmer(asked: Asked) -> Named | None:
    for face in asked.faces:
        for t in face.trimmers:
            if t.tag == asked.ref:
                word = "Nogging" if t.nogging else "Trimmer"
                return Named(
                    title=f"{word} {t.tag} to add",
                    figures=f"{asked.mm(t.length)} long, {sentences.REASONS[t.reason]}",
                    sentence=sentences.NOGGING if t.nogging else sentences.TRIMMER,
                    term=word.lower(),
                )
    return None


# --- joints and fixings -----------------------------------------------------------------


def _joint(asked: Asked) -> Named | None:
    for face in asked.faces:
        for joint in face.joints:
            if joint.id == asked.ref:
                return _joint_named(asked, face, joint)
    return None


def _joint_named(asked: Asked, face: SurfaceScheme, joint: Joint) -> Named:
    title, sentence, term = sentences.JOINTS[joint.kind]
    if joint.kind.is_butt and joint.support:
        title = f"{title} on {_behind(face, joint.support)}"
    one, two = joint.pieces
    figures = f"{asked.mm(joint.length)} long, between {one} and {two}"
    if joint.back_blocked:
        figures += ", back-blocked"
    return Named(title=title, figures=figures, sentence=sentence, term=term)


def _behind(face: SurfaceScheme, ref: str) -> str:
    """Say what stands behind a joint or under a fastener, by its id."""
    if any(t.tag == ref for t in face.trimmers):
        return f"trimmer {ref}"
    if any(b.id == ref for b in face.fixings.back_blocks):
        return f"back-block {ref}"
    found = next((s for s in face.surface.supports if s.id == ref), None)
    if found is None:
        return ref
    words = support_words(found, alone=len(face.surface.zones) == 1)
    return words[0].lower() + words[1:]


def _back_block(asked: Asked) -> Named | None:
    return _first(
        Named(
            title=f"Back-block {block.id}",
            figures=asked.size(block.length, block.width),
            sentence=sentences.BACK_BLOCK,
            term="back-block",
        )
        for face in asked.faces
        for block in face.fixings.back_blocks
        if block.id == asked.ref
    )


def _fastener(asked: Asked) -> Named | None:
    number = asked.number
    face = next(asked.faces, None)
    if face is None or number is None or number >= len(face.fixings.fasteners):
        return None
    one = face.fixings.fasteners[number]
    return Named(
        title=f"{sentences.FASTENERS.get(one.kind, one.kind)} {sentences.ROLES[one.role]}",
        figures=f"through {one.piece} into {_behind(face, one.support)}",
        sentence=sentences.FASTENER,
        term="fastener",
    )


def _daub(asked: Asked) -> Named | None:
    number = asked.number
    face = next(asked.faces, None)
    if face is None or number is None or number >= len(face.fixings.daubs):
        return None
    daub = face.fixings.daubs[number]
    return Named(
        title="Daub of adhesive",
        figures=f"for {daub.piece} on {_behind(face, daub.support)}",
        sentence=sentences.DAUB,
        term="daub",
    )


def _bead(asked: Asked) -> Named | None:
    for face in asked.faces:
        count = sum(bead.piece == asked.ref for bead in face.fixings.beads)
        if count:
            return Named(
                title="Bead of adhesive",
                figures=f"one of {count} for {asked.ref}, each along a member behind it",
                sentence=sentences.DAUB,
                term="daub",
            )
    return None


def _packer(asked: Asked) -> Named | None:
    return _first(
        Named(
            title="Packers at the floor",
            figures=f"{len(face.packers)} packers, {asked.mm(face.packers[0].height)} thick",
            sentence=sentences.PACKER,
            term="packer",
        )
        for face in asked.faces
        if face.packers
    )


def _start(asked: Asked) -> Named | None:
    u, v = asked.picked.point
    found = [
        (abs((x.a[0] + x.b[0]) / 2 - u) + abs((x.a[1] + x.b[1]) / 2 - v), n, x)
        for face in asked.faces
        for n, x in enumerate(start_lines(face.surface, face.set_out))
    ]
    if not found:
        return None
    line = min(found, key=lambda f: f[:2])[2]
    ends = dict.fromkeys((asked.mm(line.offset_a), asked.mm(line.offset_b)))
    return Named(
        title="Start line",
        figures=f"{' at one end and '.join(ends)} from the side the sheets start at",
        sentence=sentences.START,
        term="start-line",
    )


# --- the room as measured ---------------------------------------------------------------


def _opening(asked: Asked) -> Named | None:
    for o in asked.room.openings if asked.room else ():
        if o.id == asked.ref:
            sentence, term = sentences.OPENINGS[o.kind]
            figures = f"{asked.mm(o.width)} across" if o.is_round else asked.size(o.width, o.height)
            if o.host != "ceiling":
                figures += f", {asked.mm(o.left)} from the left corner"
                if o.kind is OpeningKind.WINDOW:
                    figures += f", sill {asked.mm(o.bottom)} above the floor"
            return Named(
                title=f"{OPENING_WORDS[o.kind]} {o.id}",
                figures=figures,
                sentence=sentence,
                term=term,
            )
    return None


def _high(asked: Asked, room: Room, index: int) -> str:
    """Return how high a wall's framing is: at its lowest and its highest where these differ."""
    if not room.ceiling_parts:
        return asked.mm(room.height)
    over = tops(room, *room.wall_ends(index), lambda _: 0.0)
    heights = [z for top in over for z in (top.z0, top.z1)]
    ends = dict.fromkeys(asked.mm(z) for z in (min(heights), max(heights)))
    return " to ".join(ends)


def _wall(asked: Asked) -> Named | None:
    if asked.ref == "floor":
        return Named(title="Floor", sentence=sentences.FLOOR, term="skirting")
    kind, colon, number = asked.ref.partition(":")
    if colon and kind == "edge":
        return Named(title=f"Side {int(number) + 1} of the outline", sentence=sentences.ROOM)
    room = asked.room
    for index, wall in enumerate(room.walls if room else ()):
        if room and wall.id == asked.ref:
            name = wall.name or wall.id
            long = asked.mm(room.wall_length(index))
            if wall.kind is WallKind.OPEN:
                return Named(
                    title=f"Open side {name}", figures=f"{long} long", sentence=sentences.NO_WALL
                )
            return Named(
                title=f"Wall {name}" + ("" if wall.lined else ", not lined"),
                figures=f"{long} long, {_high(asked, room, index)} high",
                sentence=sentences.WALL,
                term="lining",
            )
    return None


def _lettering(asked: Asked) -> Named | None:
    if asked.ref.startswith(BREACH):
        number = asked.number or 0
        for face in asked.faces:
            found = blocking(face)
            if 0 < number <= len(found):
                finding = found[number - 1]
                return Named(
                    title=f"{finding.code} {finding.title}",
                    sentence=say(finding, asked.project.units),
                )
    if not asked.ref:
        return Named(title="Note", sentence=sentences.NOTE)
    first = _wall(asked) or _surface(asked) or _opening(asked) or _zone(asked)
    return first or bulkhead_named(asked) or column_named(asked)


_NAMERS: dict[str, Callable[[Asked], Named | None]] = {
    SURFACE: _surface,
    "outline": _surface,
    FOLD: _fold,
    "sheet": _piece,
    "unlined": _surface,
    "no_joint": _zone,
    "zone": _zone,
    "joist": _support,
    "trimmer": _trimmer,
    "back_block": _back_block,
    "fastener": _fastener,
    "daub": _daub,
    "bead": _bead,
    "packer": _packer,
    "start": _start,
    "opening": _opening,
    "wall": _wall,
    "no_wall": _wall,
    "bulkhead": bulkhead_named,
    "column": column_named,
    "dimension": dimension_named,
    "lettering": _lettering,
    **dict.fromkeys(JOINT_LAYERS.values(), _joint),
}
