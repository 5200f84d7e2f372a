"""Signs on the drawing for what the user locked: joints, course lines, pieces."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from roomboard.app.canvas.drawn import Drawn
from roomboard.app.canvas.viewport import Viewport
from roomboard.app.palette import Inks
from roomboard.core.editing.choices import ends_of
from roomboard.core.plane import Point
from roomboard.core.project import Room
from roomboard.core.scheme import SurfaceScheme

LENSES = ("set_out", "fix", "cut", "order")
"""The lenses in which locks are marked."""
IN_CORNER = 13.0
"""How far inside its corner the sign of a locked piece stands, pixels."""


def paint_locks(painter: QPainter, port: Viewport, inks: Inks, drawn: Drawn | None) -> None:
    """Mark everything that is locked on the view that is painted.

    Args:
        painter: Open on the canvas.
        port: Where the view lies.
        inks: Colours.
        drawn: The view.
    """
    if drawn is None or drawn.scheme is None or drawn.lens not in LENSES:
        return
    room = next((r for r in drawn.scheme.rooms if r.room.id == drawn.room), None)
    faces = {s.surface.ref: s for s in room.surfaces} if room is not None else {}
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for pane in drawn.view.panes:
        face = faces.get(pane.surface)
        if face is None or room is None:
            continue
        for point in locked_joints(face, room.room):
            paint_lock(painter, port.to_screen(pane.placing.apply(point)), inks)
        for corner, middle in locked_corners(face):
            at, inwards = (port.to_screen(pane.placing.apply(p)) for p in (corner, middle))
            way = inwards - at
            sign = QPointF(IN_CORNER if way.x() > 0 else -IN_CORNER, 0.0)
            sign += QPointF(0.0, IN_CORNER if way.y() > 0 else -IN_CORNER)
            paint_lock(painter, at + sign, inks, half=4.0)
    painter.restore()


def locked_joints(face: SurfaceScheme, room: Room) -> Iterator[Point]:
    """Yield the middle of every locked butt and of every set first course line, (u, v) mm.

    Args:
        face: A surface as it is set out.
        room: Its room.
    """
    frames = {f.number: f.frame for f in face.set_out.fields}
    for butt in face.set_out.butts:
        if butt.locked:
            yield frames[butt.field].to_uv((butt.s, (butt.t0 + butt.t1) / 2))
    choice = room.choice(face.surface.key.partition(".")[0]).by_user
    set_fields = {n for n, _ in choice.first_course}
    for number, a, b, _ in face.set_out.start:
        if number in set_fields:
            yield ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


def locked_corners(face: SurfaceScheme) -> Iterator[tuple[Point, Point]]:
    """Yield a corner and the middle of every piece whose butts are all locked, (u, v) mm.

    Args:
        face: A surface as it is set out.
    """
    held = {(b.field, b.course, b.s) for b in face.set_out.butts if b.locked}
    for piece in face.set_out.pieces:
        ends = ends_of(piece, face.set_out.butts)
        if ends and all((piece.field, piece.course, s) in held for s in ends):
            s0, t0, s1, t1 = piece.blank
            yield piece.frame.to_uv((s0, t1)), piece.frame.to_uv(((s0 + s1) / 2, (t0 + t1) / 2))


def paint_lock(painter: QPainter, at: QPointF, inks: Inks, half: float = 5.5) -> None:
    """Draw one lock: a body with a keyhole under a bow.

    Args:
        painter: Open on the canvas.
        at: Its middle, pixels.
        inks: Colours.
        half: Half its width, pixels.
    """
    colour = QColor(inks.held)
    bow = QRectF(at.x() - half * 0.6, at.y() - half * 1.5, half * 1.2, half * 1.8)
    body = QRectF(at.x() - half, at.y() - half * 0.5, 2 * half, half * 1.6)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for pen in (QPen(QColor(inks.paper), 4.0), QPen(colour, 1.8)):
        painter.setPen(pen)
        painter.drawArc(bow, 0, 180 * 16)
    painter.setPen(QPen(QColor(inks.paper), 1.0))
    painter.setBrush(colour)
    painter.drawRect(body)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(inks.paper))
    painter.drawEllipse(body.center(), half * 0.28, half * 0.28)
