"""How Shorefast says no: five kinds, by who must act, each with a way out."""

from __future__ import annotations


class ShorefastError(Exception):
    """An answer that cannot be given, said so that somebody can act on it.

    Parameters
    ----------
    where : str
        The place in the skipper's names ("boat.toml, line 12, [hull] length_m").
    got : str
        What was found there, with its unit.
    against : str
        What stands against it. May be empty.
    way_out : str
        What to do, one or two sentences with their full stops.
    """

    kind = "ShorefastError"

    def __init__(self, where: str, got: str, against: str, way_out: str) -> None:
        self.where = where
        self.got = got
        self.against = against
        self.way_out = way_out
        super().__init__(self.sentence)

    @property
    def sentence(self) -> str:
        """The whole message as it is read aloud."""
        stands = f", {self.against}" if self.against else ""
        return f"{self.where}: {self.got}{stands}. {self.way_out}"


class BadInput(ShorefastError):
    """The person gave something that cannot be so."""

    kind = "BadInput"


class Unreadable(ShorefastError):
    """A file or feed cannot be read as what it was said to be."""

    kind = "Unreadable"


class OutsideModel(ShorefastError):
    """A formula was asked outside the range it is good for."""

    kind = "OutsideModel"


class NoRest(ShorefastError):
    """The solver found no place where she lies in balance."""

    kind = "NoRest"


class Unavailable(ShorefastError):
    """A store or a feed does not answer, or a needed library is missing."""

    kind = "Unavailable"
