"""What every drag of a measured thing has in common: try out, type, commit, take back."""

from __future__ import annotations

from roomboard.app.desk import Desk
from roomboard.app.document import with_room
from roomboard.app.gestures.doing import Doing, RoomEdit
from roomboard.app.gestures.gesture import Aim
from roomboard.app.words import tr
from roomboard.core.editing import EditError
from roomboard.core.project import Room


class Drag(Doing):
    """Drags something of the room; the sheets follow, and what is typed beats the pointer.

    Args:
        desk: The desk.
        words: What it does, for the undo list.
    """

    def __init__(self, desk: Desk, words: str) -> None:
        super().__init__(desk)
        self.words = words
        self.hint = tr("Drag, or type the length; Esc puts it back:")
        self._start: Aim | None = None
        self._aim: Aim | None = None
        self._good: RoomEdit | None = None

    # --- for those that drag something ----------------------------------------------------

    def aimed(self, room: Room, start: Aim, aim: Aim) -> RoomEdit | None:
        """Return the edit that the pointer means, or None for none."""
        raise NotImplementedError

    def meant(self, room: Room, text: str) -> RoomEdit | str:
        """Return the edit that typed text means, or why it is refused."""
        raise NotImplementedError

    def told(self, before: Room, after: Room) -> str:
        """Return the live figures of an edit."""
        raise NotImplementedError

    # --- the gesture ----------------------------------------------------------------------

    def press(self, aim: Aim) -> None:
        """Begin where the button was pressed; pressed again, commit."""
        if self._start is None:
            self._start = aim
        else:
            self.release(aim)

    def move(self, aim: Aim) -> None:
        """Try out where the pointer is, unless something is typed."""
        self._aim = aim
        self.screen = aim.screen
        if not self.typing:
            self._follow()

    def _follow(self) -> None:
        room, start, aim = self.room, self._start, self._aim
        if room is None or start is None or aim is None:
            return
        change = self.aimed(room, start, aim)
        if change is None:
            self._good, self.trouble, self.figures = None, "", ""
            self.desk.document.drop_trial()
        else:
            self._try(room, change)

    def _try(self, room: Room, change: RoomEdit) -> str:
        """Show an edit; where it cannot be made, what is shown stays."""
        try:
            after = change(room)
        except EditError as refusal:
            self.trouble = refusal.said(self.units)
            self._good = None
            self.desk.document.drop_trial()
            return self.trouble
        self.trouble, self._good = "", change
        self.figures = self.told(room, after)
        self.desk.document.try_out(lambda p: with_room(p, room.id, lambda _: after))
        return ""

    def release(self, aim: Aim) -> None:
        """Commit what is shown; while something is typed, wait for Enter."""
        self._aim = aim
        if self.typing:
            return
        self._commit()

    def _commit(self) -> None:
        self.done = True
        if self._good is None:
            self.desk.document.drop_trial()
            if self.trouble:
                self.desk.say(self.trouble)
            return
        self.desk.edit_room(self.words, self._good)

    def echo(self, text: str) -> tuple[str, bool]:
        """Show what typed text would do."""
        self.typing = text.strip()
        room = self.room
        if room is None:
            return "", False
        if not self.typing:
            self._follow()
            return "", True
        change = self.meant(room, text)
        if isinstance(change, str):
            return change, False
        trouble = self._try(room, change)
        return (trouble, False) if trouble else (f"= {self.figures}", True)

    def typed(self, text: str) -> str:
        """Commit what is typed, or what is shown."""
        room = self.room
        self.typing = ""
        if room is None or not text.strip():
            self._commit()
            return ""
        change = self.meant(room, text)
        if isinstance(change, str):
            self.typing = text.strip()
            return change
        trouble = self._try(room, change)
        if trouble:
            self.typing = text.strip()
            return trouble
        self._commit()
        return ""
