"""Who does what on deck while practising: engine, helm, chain, the hand with the line."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from shorefast.manoeuvre.practice_orders import Failure, Order
from shorefast.manoeuvre.sequence import Sequence, step

# below this share of full revs the shaft stands
STANDS = 0.02


@dataclass(frozen=True)
class Happening:
    """Something that came about, wanted or not.

    Attributes
    ----------
    t_s : float
        Since practice began. [s]
    kind : str
        One of those of ``wording``'s catalogue.
    of : str
        What it is about: a part, a line, an order.
    east_m, north_m : float
        Where. [m]
    value : float or None
        A length [m], pull [N] or angle, as its kind has it.
    waits_for : tuple of str
        Where an order was refused: what it waits for, by names of ``sequence.CONDITIONS``
        and our own.
    """

    t_s: float
    kind: str
    of: str
    east_m: float
    north_m: float
    value: float | None = None
    waits_for: tuple[str, ...] = ()


@dataclass(frozen=True)
class Hand:
    """The one who carries a line, off the boat.

    line : which, counted from one; east_m, north_m : where [m]; back : on the way back
    ashore_s : since landing [s]; brings : the end of a line that is fast ashore already
    """

    line: int
    east_m: float
    north_m: float
    back: bool = False
    ashore_s: float = 0.0
    brings: bool = False


@dataclass(frozen=True)
class Deck:
    """How things stand on deck.

    Attributes
    ----------
    sequence : Sequence
        What the engine-stopped rule goes by.
    helm_rad, revs, push : float
        As ordered.
    helm_by_crew, chain_by_crew : bool
        Whether a perfect hand steers her in, or veers by the calls.
    steered : (sum_m, revs, held)
        What that helmsman keeps in mind: held is 1 once she is where she is held.
    chain_to_m : float or None
        Veered or heaved to; None: held. [m]
    line_to_m : tuple of float or None
        To what each line is taken in or eased; None: held. [m]
    hand : Hand or None
        Off the boat; None aboard.
    failed : tuple of Failure
        In force.
    aground : tuple of str
        What touches.
    fouled : bool
        A line is in the propeller.
    moved_told_m : float
        How far the anchor had given way when that was last told. [m]
    told : frozenset of str
        What has been told and is not told again.
    """

    sequence: Sequence = field(default_factory=Sequence)
    helm_rad: float = 0.0
    revs: float = 0.0
    push: float = 0.0
    helm_by_crew: bool = False
    chain_by_crew: bool = False
    steered: tuple[float, float, float] | None = None
    chain_to_m: float | None = None
    line_to_m: tuple[float | None, ...] = ()
    hand: Hand | None = None
    failed: tuple[Failure, ...] = ()
    aground: tuple[str, ...] = ()
    fouled: bool = False
    moved_told_m: float = 0.0
    told: frozenset[str] = frozenset()

    def has(self, kind: str) -> Failure | None:
        """The failure of that kind that is in force."""
        return next((one for one in self.failed if one.kind == kind), None)

    @property
    def engine_dead(self) -> bool:
        """Whether it cannot be started."""
        return self.fouled or self.has("engine stops") is not None


@dataclass(frozen=True)
class Obeyed:
    """The deck after an order, and what it waits for where it was refused."""

    deck: Deck
    waits_for: tuple[str, ...] = ()


def _event(deck: Deck, event: str) -> Obeyed:
    state, waits_for = step(deck.sequence, event)
    return Obeyed(replace(deck, sequence=state), waits_for)


def stopped(deck: Deck) -> Deck:
    """The engine stopped: nothing ever keeps that from being done."""
    quiet = step(deck.sequence, "stop the engine").state
    return replace(deck, sequence=replace(quiet, answered=False), revs=0.0, helm_by_crew=False)


def ordered_engine(deck: Deck, order: Order, shaft: float) -> Obeyed:
    """An order to the engine.

    Parameters
    ----------
    shaft : float
        The revs as they are, share of full.
    """
    if order.do == "stop engine":
        return Obeyed(stopped(deck))
    if order.do == "engine stopped":
        if abs(shaft) > STANDS:
            return Obeyed(deck, ("the shaft stands",))
        return _event(deck, "answer engine stopped")
    if order.do == "neutral":
        if deck.sequence.engine != "in gear":
            return Obeyed(replace(deck, revs=0.0))
        return _event(replace(deck, revs=0.0, helm_by_crew=False), "take her out of gear")
    return _started(deck, order)


def _started(deck: Deck, order: Order) -> Obeyed:
    """Started where it is stopped; then, where revs are ordered, put in gear."""
    if deck.engine_dead:
        return Obeyed(deck, ("engine in order",))
    running = Obeyed(deck)
    if deck.sequence.engine == "stopped":
        running = _event(deck, "start the engine")
    if running.waits_for or order.do == "start engine":
        return running
    geared = running
    if running.deck.sequence.engine == "neutral":
        geared = _event(running.deck, "put her in gear")
    if geared.waits_for:
        return Obeyed(deck, geared.waits_for)
    if order.do == "helm by crew":
        return Obeyed(replace(geared.deck, helm_by_crew=True))
    assert order.value is not None
    return Obeyed(replace(geared.deck, revs=order.value, helm_by_crew=False))


_OF_SEQUENCE = {
    "tend line": "tend the line",
    "leave line": "leave the line",
    "go to ladder": "go to the ladder",
    "step back": "step back aboard",
}


def ordered_helm(deck: Deck, order: Order) -> Obeyed:
    """Helm, thruster, chain and what the sequence alone decides."""
    if order.do == "helm":
        return Obeyed(replace(deck, helm_rad=order.value or 0.0, helm_by_crew=False))
    if order.do == "thruster":
        return Obeyed(replace(deck, push=order.value or 0.0))
    if order.do in _OF_SEQUENCE:
        return _event(deck, _OF_SEQUENCE[order.do])
    return _ordered_chain(deck, order)


def _ordered_chain(deck: Deck, order: Order) -> Obeyed:
    # a brake put on stops a chain that runs
    kept = tuple(one for one in deck.failed if one.kind != "chain runs")
    if order.do == "hold chain":
        return Obeyed(replace(deck, chain_to_m=None, chain_by_crew=False, failed=kept))
    if order.do == "chain by crew":
        return Obeyed(replace(deck, chain_by_crew=True, failed=kept))
    return Obeyed(replace(deck, chain_to_m=order.value, chain_by_crew=False, failed=kept))
