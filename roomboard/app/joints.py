"""Joints between sheets on the desk: dragged, moved by keys, locked and let go."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent

from roomboard.app.acts import Act
from roomboard.app.canvas.locks import paint_locks
from roomboard.app.desk import LENS_ORDER, Desk, Held
from roomboard.app.document import Document
from roomboard.app.figures.lines import line_of
from roomboard.app.gestures.drag_lines import ControlDrag
from roomboard.app.gestures.gesture import Aim, Gesture
from roomboard.app.gestures.joints import JointDrag
from roomboard.app.gestures.track import Place, Track, arrow_step
from roomboard.app.locking import held_is_locked, lock_held, toggle_lock, unlock_held
from roomboard.app.spots import (
    BUTT_LAYER,
    CONTROL_LAYER,
    LAYERS,
    LINE_LAYER,
    Spot,
    held_piece,
    held_spot,
    joint_at,
    spot_of,
)
from roomboard.app.tracks import track_of
from roomboard.app.variants import variant_acts
from roomboard.app.ways import automatic_acts, which_acts
from roomboard.app.words import tr
from roomboard.core.editing.choices import ends_of
from roomboard.core.joints import JointKind
from roomboard.core.scheme import Scheme
from roomboard.core.units import write_run
from roomboard.core.ways import Figures, figures_of

if TYPE_CHECKING:
    from roomboard.app.window import Window

LENSES = LENS_ORDER[LENS_ORDER.index("set_out") : LENS_ORDER.index("print")]
"""The lenses in which joints are moved: set out, fix, cut, order."""


# --- what it changes --------------------------------------------------------------------


class Beside:
    """Says what the set-out shown changes beside the one there was."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._before = _figures(desk.document.scheme)
        self._made: tuple[Scheme, str] | None = None

    def __call__(self) -> str:
        """Return one line with the sheets and the butt joints before and after."""
        document = self._desk.document
        scheme = document.scheme
        if not document.settled or scheme is None or self._before is None:
            return tr("working out the sheets …")
        if self._made is None or self._made[0] is not scheme:
            self._made = (scheme, in_words(self._before, figures_of(scheme), document))
        return self._made[1]


def _figures(scheme: Scheme | None) -> Figures | None:
    return figures_of(scheme) if scheme is not None else None


def in_words(before: Figures, after: Figures, document: Document) -> str:
    """Say what changed in sheets bought and metres of butt joint.

    Args:
        before: What there was.
        after: What there is.
        document: For the units.
    """
    units = document.shown.units
    was, now = (write_run(f.butt_m * 1000, units) for f in (before, after))
    return tr(
        "sheets to buy {was} → {now}, butt joint {was_m} → {now_m}",
        was=before.sheets,
        now=after.sheets,
        was_m=was,
        now_m=now,
    )


# --- dragging ---------------------------------------------------------------------------


def joint_drag(desk: Desk, aim: Aim) -> Gesture | None:
    """Return the gesture that dragging a joint under the pointer begins, or None.

    Args:
        desk: The desk.
        aim: Where it was pressed.
    """
    if desk.lens not in LENSES:
        return None
    for picked in aim.picked:
        movable = picked.layer in {*LAYERS, CONTROL_LAYER}
        here = movable and picked.surface == aim.surface
        scheme = desk.surface_scheme(picked.surface) if here else None
        joint = next((j for j in scheme.joints if j.id == picked.ref), None) if scheme else None
        if scheme is None or joint is None:
            continue
        line = line_of(scheme, joint) if joint.kind is JointKind.CONTROL else None
        if line is not None:
            desk.hold(Held(kind=picked.layer, ref=picked.ref, surface=picked.surface))
            return ControlDrag(desk, scheme.surface, line)
        spot = spot_of(scheme, joint)
        track = track_of(desk, spot) if spot is not None else None
        if spot is not None and track is not None:
            desk.hold(Held(kind=picked.layer, ref=picked.ref, surface=picked.surface))
            return _drag(desk, spot, track)
    return None


def _drag(desk: Desk, spot: Spot, track: Track) -> Gesture:
    beside = Beside(desk)
    return JointDrag(desk, track, beside, lambda place: followed(desk, spot, place, beside))


def followed(desk: Desk, spot: Spot, place: Place, beside: Beside | None = None) -> None:
    """Stay on a joint that was put in another place, once the sheets are worked out.

    Args:
        desk: The desk.
        spot: Which joint it was.
        place: Where it was put.
        beside: Says what it changed; None to say nothing.
    """
    follower = desk.findChild(Follower)
    if follower is None:
        follower = Follower(desk)
    follower.follow(replace(spot, at=place.along), place.words, beside)


class Follower(QObject):
    """Keeps hold of a joint while all joints are numbered anew.

    Attributes:
        spot: The joint followed, or None once it is held again.
        held: What was held when it began; whoever takes hold of something else keeps that.
    """

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._desk = desk
        self.spot: Spot | None = None
        self.held: Held | None = None
        self._words = ""
        self._beside: Beside | None = None
        desk.document.scheme_changed.connect(self._look)

    def follow(self, spot: Spot, words: str, beside: Beside | None) -> None:
        """Follow a joint to where it is now."""
        self.spot, self._words, self._beside = spot, words, beside
        self.held = self._desk.held

    def _look(self) -> None:
        spot = self.spot
        if spot is None or not self._desk.document.settled:
            return
        self.spot = None
        scheme = self._desk.surface_scheme(spot.surface)
        joint = joint_at(scheme, spot) if scheme is not None else None
        if joint is not None and self._desk.held == self.held:
            layer = BUTT_LAYER if spot.butt else LINE_LAYER
            self._desk.hold(Held(kind=layer, ref=joint.id, surface=spot.surface))
        if self._beside is not None:
            told = self._beside()
            self._desk.say(tr("{place}, locked: {told}", place=self._words, told=told))


# --- the keys ---------------------------------------------------------------------------


class JointKeys(QObject):
    """Arrow keys move the joint that is held, L locks it and takes the lock off."""

    def __init__(self, window: Window) -> None:
        super().__init__(window.canvas)
        self._window = window
        window.canvas.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take the keys that are for a joint while one is held and nothing else goes on."""
        kinds = (QEvent.Type.ShortcutOverride, QEvent.Type.KeyPress)
        if not isinstance(event, QKeyEvent) or event.type() not in kinds:
            return super().eventFilter(watched, event)
        desk, canvas = self._window.desk, self._window.canvas
        plain = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if plain != Qt.KeyboardModifier.NoModifier or canvas.gesture is not None:
            return False
        key = Qt.Key(event.key())
        arrows = {Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Down}
        if key not in {Qt.Key.Key_L, *arrows} or desk.lens not in LENSES:
            return False
        if event.type() == QEvent.Type.ShortcutOverride:
            wanted = key == Qt.Key.Key_L and self._now() is not None
            if wanted:
                event.accept()
            return wanted
        if key == Qt.Key.Key_L:
            return self._now() is not None and toggle_lock(desk)
        return self._step(key)

    def _now(self) -> Spot | None:
        """Return the joint held; one just moved stands where it was put."""
        desk = self._window.desk
        follower = desk.findChild(Follower)
        if follower is not None and follower.spot is not None and desk.held == follower.held:
            return follower.spot
        return held_spot(desk)

    def _step(self, key: Qt.Key) -> bool:
        desk, canvas = self._window.desk, self._window.canvas
        spot = self._now()
        track = track_of(desk, spot) if spot is not None else None
        drawn = canvas.drawn
        if spot is None or track is None or drawn is None:
            return False
        pane = next((p for p in drawn.view.panes if p.surface == spot.surface), None)
        step = arrow_step(key, track, pane.placing) if pane is not None else 0
        if not step:
            return False
        place = track.next(spot.at, step)
        if place is None:
            desk.say(tr("There is no further legal place that way for {name}.", name=track.name))
            return True
        beside = Beside(desk)
        words = tr("Move {name}", name=track.name[:1].lower() + track.name[1:])
        if desk.document.attempt(words, track.put(place)):
            followed(desk, spot, place, beside)
        return True


# --- acts -------------------------------------------------------------------------------


def acts(window: Window) -> list[Act]:
    """Return the acts of the menu for how the sheets go; marks locks on the canvas."""
    desk, canvas = window.desk, window.canvas
    JointKeys(window)
    canvas.overlays.append(
        lambda painter, port, inks: paint_locks(painter, port, inks, canvas.drawn)
    )

    def can_lock() -> bool:
        if held_spot(desk) is not None:
            return True
        found = held_piece(desk)  # one from side to side has no joint that could be locked
        return found is not None and bool(ends_of(found[1], found[0].set_out.butts))

    return [
        *which_acts(window),
        Act(
            id="sheets.lock",
            menu="Sheets",
            words="Lock this joint or piece",
            run=lambda: lock_held(desk),
            keys="Ctrl+L",
            tip="What is held stays where it is, whatever else is worked out anew.",
            enabled=lambda: can_lock() and not held_is_locked(desk),
            parted=True,
        ),
        Act(
            id="sheets.unlock",
            menu="Sheets",
            words="Take its lock off",
            run=lambda: unlock_held(desk),
            keys="Ctrl+Shift+L",
            tip="What is held may go where the set-out puts it.",
            enabled=lambda: held_is_locked(desk),
        ),
        *automatic_acts(window),
        *variant_acts(window),
    ]
