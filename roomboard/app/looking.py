"""Acts that change what is seen: lens, view, nearer and farther, light and dark."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from roomboard.app.acts import Act
from roomboard.app.canvas.canvas import STEP
from roomboard.app.desk import BELOW, CEILING, CUTTING, LENS_ORDER, OPENED_OUT, PLAN, Desk
from roomboard.app.words import tr
from roomboard.drawing.layered import SHOWN
from roomboard.drawing.views import LENSES

if TYPE_CHECKING:
    from roomboard.app.window import Window


def acts(window: Window) -> list[Act]:
    """Return the acts of the menu that changes what is seen."""
    desk, canvas = window.desk, window.canvas

    def lens(name: str) -> Callable[[], None]:
        return lambda: desk.show_lens(name)

    def view(name: str) -> Callable[[], None]:
        return lambda: desk.show_view(name)

    found = [
        Act(
            id=f"lens.{name}",
            menu="Look",
            words=LENSES[name].words,
            run=lens(name),
            keys=str(number),
            tip=LENSES[name].tip,
            checked=lambda name=name: desk.lens == name,  # type: ignore[misc]
        )
        for number, name in enumerate(LENS_ORDER, 1)
    ]
    found += [
        Act(
            id=f"view.{name}",
            menu="Look",
            words=words,
            run=view(name),
            keys=keys,
            tip=tip,
            checked=lambda name=name: desk.view == name,  # type: ignore[misc]
            parted=name == OPENED_OUT,
        )
        for name, words, keys, tip in (
            (OPENED_OUT, "Opened-out room", "H", "Every face of the room laid flat."),
            (PLAN, "Floor plan", "P", "The plan with the joists over it."),
            (CEILING, "Ceiling", "C", "The ceiling, laid out like the floor plan."),
            (
                BELOW,
                "Ceiling from below",
                "Shift+C",
                "The ceiling as one sees it looking up: left and right change sides.",
            ),
            (CUTTING, "Cutting", "K", "How each stock sheet is cut."),
        )
    ]
    found += [
        Act(
            id="view.next_wall",
            menu="Look",
            words="Next wall to the right",
            run=lambda: _turn(window, 1),
            keys="]",
            tip="Stand before the next wall, going round the room clockwise.",
        ),
        Act(
            id="view.last_wall",
            menu="Look",
            words="Next wall to the left",
            run=lambda: _turn(window, -1),
            keys="[",
            tip="Stand before the wall on the left.",
        ),
        Act(
            id="view.second_layer",
            menu="Look",
            words="Second layer",
            run=lambda: _other_layer(desk),
            keys="E",
            tip="Where two layers are hung, show the second in place of the first.",
            checked=lambda: desk.layer == 2,
            enabled=lambda: desk.in_layers or desk.layer == 2,
        ),
        Act(
            id="entry",
            menu="Look",
            words="Type under the drawing",
            run=window.entry.begin,
            keys="T",
            tip="A room, joists, or a length of what is held.",
            parted=True,
        ),
        Act(
            id="view.fit",
            menu="Look",
            words="Show all of it",
            run=canvas.fit,
            keys="0",
            tip="Bring the whole drawing into the window.",
            parted=True,
        ),
        Act(
            id="view.nearer",
            menu="Look",
            words="Nearer",
            run=lambda: canvas.zoom(STEP),
            keys="+; =; Ctrl++",
            tip="Show less, larger.",
        ),
        Act(
            id="view.farther",
            menu="Look",
            words="Farther",
            run=lambda: canvas.zoom(1 / STEP),
            keys="-; Ctrl+-",
            tip="Show more, smaller.",
        ),
        Act(
            id="view.dark",
            menu="Look",
            words="Dark",
            run=lambda: window.set_inks("light" if window.inks.name == "dark" else "dark"),
            keys="Ctrl+Shift+D",
            tip="Light lines on a dark desk, or the other way round.",
            checked=lambda: window.inks.name == "dark",
            parted=True,
        ),
    ]
    return found


def _other_layer(desk: Desk) -> None:
    """Show the other layer where two are hung, and say which."""
    desk.show_layer(3 - desk.layer)
    desk.say(tr(SHOWN[desk.layer]))


def _turn(window: Window, step: int) -> None:
    """Stand before the next wall."""
    desk = window.desk
    scheme = desk.room_scheme
    faces = (s.surface for s in scheme.surfaces) if scheme else ()
    keys = [s.key for s in faces if s.lettered and s.layer == 1]
    if keys:
        at = keys.index(desk.view) + step if desk.view in keys else (0 if step > 0 else -1)
        desk.show_view(keys[at % len(keys)])
