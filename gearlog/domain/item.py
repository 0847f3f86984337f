"""The item: one piece of gear, and what a rope adds to it."""

from __future__ import annotations

import msgspec

from gearlog.domain.dates import PartialDate
from gearlog.domain.record import Record
from gearlog.domain.vocabulary import Came, Category, EndState, Gate, Lay, Use
from gearlog.units.measure import Force, Length, LinearMass


class LifeLimit(msgspec.Struct, frozen=True, kw_only=True):
    """The maker's stated limit of life; whichever comes first ends it.

    Attributes:
        years_from_made: years from manufacture, or None when not stated.
        years_from_first_use: years from first use, or None when not stated.
        read_at: where the limit was read, for example "maker's sheet, page 3".
    """

    years_from_made: int | None = None
    years_from_first_use: int | None = None
    read_at: str = ""


class RopeFacts(msgspec.Struct, frozen=True, kw_only=True):
    """What is known of a rope beyond what every item has.

    Attributes:
        construction: an id of the constructions catalogue, for example ``hollow-braid``.
        strands: strands of a laid rope, or carriers of the braid that is spliced.
        lay: of a hollow braid, loose or tight.
        cover_fibre: id of the fibre of the strands or of the cover.
        core_fibre: id of the core's fibre, or empty.
        diameter: nominal.
        length_bought: as bought or cut; the length now is derived from it.
        mass_per_length: as stated.
        elongation_percent: at ``elongation_at``.
        elongation_at: the load at which the elongation is stated.
        parent_id: the spool or rope it was cut from, or empty.
        cut_from: distance of its end A from end A of the parent, when known.
        end_a: how end A was finished when it came, before any splice on record.
        end_b: the same of end B.
    """

    construction: str
    strands: int | None = None
    lay: Lay | None = None
    cover_fibre: str = ""
    core_fibre: str = ""
    diameter: Length | None = None
    length_bought: Length | None = None
    mass_per_length: LinearMass | None = None
    elongation_percent: float | None = None
    elongation_at: Force | None = None
    parent_id: str = ""
    cut_from: Length | None = None
    end_a: EndState = EndState.BARE
    end_b: EndState = EndState.BARE


class DeviceFacts(msgspec.Struct, frozen=True, kw_only=True):
    """What is known of hardware and worn gear beyond what every item has.

    Attributes:
        gate: of a connector, how its gate is kept shut.
        gate_open_strength: breaking strength with the gate open or unlocked, as printed.
        minor_axis_strength: breaking strength across, as printed.
        rope_least: the thinnest rope that it is made for.
        rope_most: the thickest.
        sheave: of a pulley, diameter of its sheave.
        size: as printed.
    """

    gate: Gate | None = None
    gate_open_strength: Force | None = None
    minor_axis_strength: Force | None = None
    rope_least: Length | None = None
    rope_most: Length | None = None
    sheave: Length | None = None
    size: str = ""


class Item(Record, frozen=True, kw_only=True):
    """One piece of gear.

    Attributes:
        tag: the short unique id written on it.
        category: what kind of thing it is.
        name: what the crew calls it.
        maker: who made it.
        model: the maker's name for it.
        serial: serial or batch number as printed.
        standards: standards claimed on it, as printed.
        breaking_strength: strength as printed, a breaking value.
        safe_working_load: as stated by the maker; never computed from the breaking value.
        used_for: people, rigging or accessory.
        made_on: date of manufacture.
        bought_on: date of purchase.
        first_used_on: date first put into use.
        life_limit: end of life as the maker states it, or None when unknown.
        assigned_to: who has it.
        kept_at: where it is kept.
        documents: references of its papers.
        rope: what a rope adds, or None.
        device: what hardware or worn gear adds, or None.
        came: whether it was bought new or used; None when it is not known.
        colour_mark: the coloured mark on it, where that is how it is told apart.
        former_tags: tags that it bore before; they still lead to it.
        contact: how its maker or supplier is reached.
    """

    tag: str
    category: Category
    name: str
    maker: str = ""
    model: str = ""
    serial: str = ""
    standards: str = ""
    breaking_strength: Force | None = None
    safe_working_load: Force | None = None
    used_for: Use = Use.PEOPLE
    made_on: PartialDate | None = None
    bought_on: PartialDate | None = None
    first_used_on: PartialDate | None = None
    life_limit: LifeLimit | None = None
    assigned_to: str = ""
    kept_at: str = ""
    documents: tuple[str, ...] = ()
    rope: RopeFacts | None = None
    device: DeviceFacts | None = None
    came: Came | None = None
    colour_mark: str = ""
    former_tags: tuple[str, ...] = ()
    contact: str = ""
