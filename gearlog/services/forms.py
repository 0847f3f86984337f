"""Forms as data: which fields a record asks for. Screens draw them, verbs take them, one reader reads them."""

from __future__ import annotations

from enum import StrEnum

import msgspec

from gearlog.domain.strength_test import FailedAt, LoadKind
from gearlog.domain.vocabulary import (
    Category,
    Condition,
    Difficulty,
    End,
    EndState,
    EventKind,
    Finish,
    Lay,
    Outcome,
    Use,
    label,
)


class FieldKind(StrEnum):
    """How a field is typed and read. All values of a form are text; an empty text is 'not known'."""

    TEXT = "text"
    WORDS = "words"  # several lines
    TAG = "tag"
    CHOICE = "choice"  # one value of ``choices``
    CHOICES = "choices"  # several values of ``choices``, separated by commas
    LIST = "list"  # several texts, separated by commas
    LENGTH = "length"
    FORCE = "force"
    LINEAR_MASS = "mass per length"
    DATE = "date"
    WHOLE = "whole number"
    NUMBER = "number"


class Field(msgspec.Struct, frozen=True):
    """One field of a form.

    Attributes:
        name: as in the record.
        label: what people read, without a colon.
        kind: how it is read.
        choices: (value, label) pairs of a choice.
        hint: an example, shown while the field is empty.
        group: heading under which it stands.
        required: whether it must be filled.
        default: what a new form starts with.
        least: of a number, the least that makes sense.
        most: of a number, the most that makes sense.
        zero: of a length, whether zero makes sense: a place on a rope may be its very end.
        empty: what an empty choice is called.
    """

    name: str
    label: str
    kind: FieldKind = FieldKind.TEXT
    choices: tuple[tuple[str, str], ...] = ()
    hint: str = ""
    group: str = ""
    required: bool = False
    default: str = ""
    least: int = 0
    most: int = 0
    zero: bool = False
    empty: str = "not known"


def words_of(kind: type[StrEnum]) -> tuple[tuple[str, str], ...]:
    """(value, label) pairs of a closed list of words."""
    return tuple((word.value, label(word)) for word in kind)


LIFE_YEARS = 50  # years; no maker of textile or metal kit states more
STRANDS = 128  # strands or carriers; braiding machines for rope have fewer
DESIGN_FACTOR = 100  # ten is the custom for people; more than a hundred is a slip of the finger
MINUTES = 10_000  # a week at the bench
BRAID_ANGLE = 80  # degrees; a strand at 90 would lie across the rope
SWELLING = 4  # times the mean diameter; a braid jams far below it

CONSTRUCTIONS = (
    ("three-strand", "three-strand laid"),
    ("hollow-braid", "hollow braid"),
    ("cover-loaded", "cover-loaded braid on a core"),
    ("double-braid", "double braid"),
    ("core-loaded", "core-loaded braid under a cover"),
    ("kernmantle", "kernmantle"),
)
FIBRES = tuple(
    (name, name)
    for name in (
        "polyester", "polyamide", "polypropylene", "hmpe", "aramid", "manila", "sisal", "hemp", "cotton",
    )
)  # fmt: skip

KNOTS = (
    ("bowline", "bowline"),
    ("two-bowlines", "two bowlines eye in eye"),
    ("becket-bend", "becket bend"),
    ("round-turn", "round turn or timber hitch"),
    ("clove-hitch", "clove hitch"),
    ("square-knot", "square knot"),
    ("any-knot", "any other knot"),
)
YES = (("yes", "yes"),)
"""The one choice of a field that is otherwise left empty."""

ITEM_FORM: tuple[Field, ...] = (
    Field("name", "name", hint="long climbing line", group="What it is", required=True),
    Field("tag", "tag", FieldKind.TAG, hint="made from the name when left empty", group="What it is"),
    Field("category", "category", FieldKind.CHOICE, words_of(Category), group="What it is", required=True),
    Field("used_for", "used for", FieldKind.CHOICE, words_of(Use), group="What it is", default="people"),
    Field("maker", "maker", hint="as printed", group="What it is"),
    Field("model", "model", hint="as printed", group="What it is"),
    Field("serial", "serial or batch", hint="as printed", group="What it is"),
    Field("standards", "standards claimed", hint="as printed", group="What it is"),
    Field("breaking_strength", "breaking strength", FieldKind.FORCE, hint="24 kN or 5400 lbf", group="Strength"),
    Field("safe_working_load", "safe working load", FieldKind.FORCE, hint="only as stated by the maker",
          group="Strength"),
    Field("made_on", "made on", FieldKind.DATE, hint="2024-05-31, 2024-05 or 2024", group="Dates"),
    Field("bought_on", "bought on", FieldKind.DATE, hint="2024-05-31, 2024-05 or 2024", group="Dates"),
    Field("first_used_on", "first used on", FieldKind.DATE, hint="2024-05-31, 2024-05 or 2024", group="Dates"),
    Field("life_years_from_made", "life, years from made", FieldKind.WHOLE, hint="as the maker states",
          group="Dates", least=1, most=LIFE_YEARS),
    Field("life_years_from_first_use", "life, years from first use", FieldKind.WHOLE,
          hint="as the maker states", group="Dates", least=1, most=LIFE_YEARS),
    Field("life_read_at", "life limit read in", hint="maker's sheet, page 3", group="Dates"),
    Field("assigned_to", "assigned to", hint="climber 1", group="Where it is"),
    Field("kept_at", "kept at", hint="van 2", group="Where it is"),
    Field("documents", "documents", FieldKind.LIST, hint="sheet-12.pdf, receipt 2024-77", group="Where it is"),
    Field("notes", "notes", FieldKind.WORDS, group="Where it is"),
)  # fmt: skip
"""Fields of every item."""

ROPE_FORM: tuple[Field, ...] = (
    Field("construction", "construction", FieldKind.CHOICE, CONSTRUCTIONS, group="Rope"),
    Field("strands", "strands or carriers", FieldKind.WHOLE, hint="3, 12, 16, 24", group="Rope", least=2, most=STRANDS),
    Field("lay", "hollow braid's lay", FieldKind.CHOICE, words_of(Lay), group="Rope"),
    Field("cover_fibre", "fibre of strands or cover", FieldKind.CHOICE, FIBRES, group="Rope"),
    Field("core_fibre", "fibre of the core", FieldKind.CHOICE, FIBRES, group="Rope"),
    Field("diameter", "diameter", FieldKind.LENGTH, hint="12.7 mm or 1/2 in", group="Rope"),
    Field("length_bought", "length as bought", FieldKind.LENGTH, hint="45 m or 150 ft", group="Rope"),
    Field("mass_per_length", "mass per length", FieldKind.LINEAR_MASS, hint="68 g/m or 7.5 lb/100ft",
          group="Rope"),
    Field("elongation_percent", "elongation in %", FieldKind.NUMBER, hint="1.5", group="Rope", most=100),
    Field("elongation_at", "elongation at", FieldKind.FORCE, hint="2.2 kN", group="Rope"),
    Field("parent", "cut from (tag)", hint="tag of the spool or rope", group="Rope"),
    Field("cut_from", "distance of end A in it", FieldKind.LENGTH, hint="from the parent's end A", group="Rope",
          zero=True),
    Field("parent_end", "end of it that was taken", FieldKind.CHOICE, (("A", "A"), ("B", "B")), group="Rope"),
    Field("cut_on", "cut on", FieldKind.DATE, hint="of a piece; empty is today", group="Rope"),
    Field("end_a", "end A came", FieldKind.CHOICE, words_of(EndState), group="Rope", default="bare"),
    Field("end_b", "end B came", FieldKind.CHOICE, words_of(EndState), group="Rope", default="bare"),
)  # fmt: skip
"""Fields that a rope adds; read only when ``construction`` is filled."""

EVENT_FORM: tuple[Field, ...] = (
    Field("kind", "what happened", FieldKind.CHOICE, words_of(EventKind), required=True),
    Field("happened_on", "on", FieldKind.DATE, hint="2024-05-31, 2024-05 or 2024", required=True),
    Field("by", "by", hint="who did, saw or examined it"),
    Field("next_due_on", "next due on", FieldKind.DATE, hint="of an examination"),
    Field("to", "to", hint="who got it: of a loan or an assignment"),
    Field("cut_end", "cut from end", FieldKind.CHOICE, (("A", "A"), ("B", "B"))),
    Field("length", "length cut off", FieldKind.LENGTH, hint="1.2 m"),
    Field("notes", "notes", FieldKind.WORDS),
)  # fmt: skip
"""Fields of an event."""

PLAN_FORM: tuple[Field, ...] = (
    Field("rope", "rope (tag)", hint="from the log; or type the rope below"),
    Field("end", "end", FieldKind.CHOICE, (("A", "A"), ("B", "B"))),
    Field("method", "method", FieldKind.CHOICE, required=True),
    Field("construction", "construction", FieldKind.CHOICE, CONSTRUCTIONS, required=True),
    Field("strands", "strands or carriers", FieldKind.WHOLE, hint="3, 12, 16", least=2, most=STRANDS),
    Field("lay", "hollow braid's lay", FieldKind.CHOICE, words_of(Lay)),
    Field("fibre", "fibre", FieldKind.CHOICE, FIBRES),
    Field("core_fibre", "fibre of the core", FieldKind.CHOICE, FIBRES),
    Field("diameter", "diameter", FieldKind.LENGTH, hint="12.7 mm or 1/2 in", required=True),
    Field("mbs", "breaking strength", FieldKind.FORCE, hint="24 kN; empty is unknown"),
    Field("eye", "eye, inside length", FieldKind.LENGTH, hint="150 mm or 6 in"),
    Field("eye_correction", "eye's correction", hint="4 mm longer; the diary offers one"),
    Field("pin", "pin diameter", FieldKind.LENGTH, hint="what the eye sits on"),
    Field("girth", "or girth of a stem", FieldKind.LENGTH, hint="what the eye passes over: 600 mm round"),
    Field("finished", "finished length", FieldKind.LENGTH, hint="wanted: 6 m or 20 ft; gives the cut length"),
    Field("both_ends", "eye at both ends", FieldKind.CHOICE, YES, hint="then crown to crown"),
    Field("shortest", "shortest setting", FieldKind.LENGTH, hint="crown to crown: 2.5 m"),
    Field("longest", "longest setting", FieldKind.LENGTH, hint="crown to crown: 4 m"),
    Field("fid", "longest fid at hand", FieldKind.LENGTH, hint="260 mm"),
    Field("fid_thickness", "its thickness", FieldKind.LENGTH, hint="5 mm"),
    Field("tool", "other tools", FieldKind.LIST, hint="wire fid:600 mm:3 mm, short fid:200 mm"),
    Field("condition", "condition", FieldKind.CHOICE, words_of(Condition), default="new"),
    Field("measured_diameter", "diameter, measured", FieldKind.LENGTH, hint="of used rope: 13.2 mm"),
    Field("use", "used for", FieldKind.CHOICE, words_of(Use), default="people"),
    Field("design_factor", "design factor", FieldKind.NUMBER, hint="10 unless you say", least=1, most=DESIGN_FACTOR),
    Field("knot", "knots in the line", FieldKind.CHOICES, KNOTS, hint="bowline, clove-hitch"),
    Field("hardware", "hardware on it", FieldKind.LIST, hint="connector:23 kN, old ring"),
    Field("tapered", "tapered tucks", FieldKind.CHOICE, YES, hint="two more tucks, thinned"),
    Field("lay_length", "lay length", FieldKind.LENGTH, hint="laid rope: one turn of one strand"),
    Field("pick_length", "pick length", FieldKind.LENGTH, hint="braid: one crossing to the next"),
    Field("twine", "twine's diameter", FieldKind.LENGTH, hint="1 mm"),
    Field("braid_angle", "braid angle in deg", FieldKind.NUMBER, hint="strand to axis: 20", least=1, most=BRAID_ANGLE),
    Field("swelling", "swelling, times", FieldKind.NUMBER, hint="diameter over the tail: 1.4", least=1, most=SWELLING),
    Field("shortening_correction", "shortening's correction", hint="12 mm more; the diary tells it"),
    Field("length", "rope length", FieldKind.LENGTH, hint="what is there"),
)  # fmt: skip
"""Fields of the planner; ``method`` gets its choices from the methods that are loaded.

What a method cannot do without is required by the method (``plan_fields``).
"""

SPLICE_FORM: tuple[Field, ...] = (
    Field("rope", "rope (tag)", required=True),
    Field("end", "end", FieldKind.CHOICE, words_of(End), required=True),
    Field("position", "position from end A", FieldKind.LENGTH, hint="only between the ends", zero=True),
    Field("method", "method", FieldKind.CHOICE, required=True),
    Field("made_on", "made on", FieldKind.DATE, hint="2024-05-31, 2024-05 or 2024", required=True),
    Field("outcome", "outcome", FieldKind.CHOICE, words_of(Outcome), required=True),
    Field("finished_eye", "finished eye", FieldKind.LENGTH, hint="inside length as it came out"),
    Field("finished_length", "finished length", FieldKind.LENGTH, hint="as it came out, where the plan has one"),
    Field("minutes", "minutes", FieldKind.WHOLE, hint="45", least=1, most=MINUTES),
    Field("tools", "tools used", FieldKind.LIST, hint="wire fid, tape"),
    Field("condition", "rope condition", FieldKind.CHOICE, words_of(Condition), required=True),
    Field("finish", "finish", FieldKind.CHOICES, words_of(Finish), hint="whipping, lock-stitch"),
    Field("made_by", "made by", hint="initials"),
    Field("checked_by", "checked by", hint="initials"),
    Field("difficulties", "difficulties", FieldKind.CHOICES, words_of(Difficulty), hint="stiff rope, tail stuck"),
    Field("difficulty_words", "in own words"),
    Field("ease", "ease 1 to 5", FieldKind.WHOLE, hint="5 is easy", least=1, most=5),
    Field("photos", "photos", FieldKind.LIST, hint="files; copied into the log's folder"),
    Field("cut_length", "rope cut off with it", FieldKind.LENGTH, hint="only of what is not on the rope any more"),
    Field("notes", "remarks", FieldKind.WORDS),
)  # fmt: skip
"""Fields of a splice record. End, outcome and the rope's condition start empty: nobody is told where, how well or in
what rope it was made until it is chosen, or was by its plan or last time. What was measured at mark ``x`` of its plan
is the field ``measured.x``.

``cut_length`` is no part of the record: it becomes a cut in the rope's history, saved with it.
"""

DIARY_FILTERS: tuple[Field, ...] = (
    Field("rope", "rope", hint="tag or part of its name"),
    Field("construction", "construction", FieldKind.CHOICE, CONSTRUCTIONS, empty="any"),
    Field("method", "method", FieldKind.CHOICE, empty="any"),
    Field("made_by", "made by", hint="initials"),
    Field("outcome", "outcome", FieldKind.CHOICES, words_of(Outcome), hint="remade, failed"),
    Field("difficulty", "difficulty", FieldKind.CHOICES, words_of(Difficulty), hint="stiff rope"),
    Field("made_from", "made from", FieldKind.DATE, hint="2024-05-31, 2024-05 or 2024"),
    Field("made_to", "made to", FieldKind.DATE, hint="2024-05-31, 2024-05 or 2024"),
    Field("words", "words", hint="all of them, anywhere in the record"),
)
"""What narrows the diary; an empty field narrows nothing."""

STRENGTH_FORM: tuple[Field, ...] = (
    Field("kind", "kind", FieldKind.CHOICE, words_of(LoadKind), required=True),
    Field("force", "force", FieldKind.FORCE, hint="21.4 kN; of a break the highest reached", required=True),
    Field("pin", "pin diameter", FieldKind.LENGTH, hint="what the eye sat on"),
    Field("failed_at", "failed at", FieldKind.CHOICE, words_of(FailedAt), hint="throat, end of the bury, clear rope"),
    Field("tested_on", "tested on", FieldKind.DATE, hint="2024-05-31, 2024-05 or 2024", required=True),
    Field("place", "place", hint="test bed at the yard"),
    Field("machine", "machine", hint="hydraulic ram with load cell"),
    Field("tested_by", "tested by", hint="initials"),
    Field("notes", "remarks", FieldKind.WORDS),
)
"""Fields of a test of strength; whether something broke or held is never guessed."""
