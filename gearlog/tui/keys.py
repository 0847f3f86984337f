"""Every key of the program, in one table: what it does, how it is called, where it works.

A key means the same everywhere. Screens take their bindings from here (``BINDINGS = bindings("gear")``) and
define ``action_<action>``; the footer, the help and the command palette are generated from the same rows.
Letters work where no text is typed; whatever is needed while typing has a second key that text fields let pass.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from textual.binding import Binding, BindingType

EVERYWHERE = "app"
LISTS = ("gear", "splices")


@dataclass(frozen=True, slots=True)
class Key:
    """One row of the table.

    Attributes:
        id: the meaning; rows that share a key share the id.
        keys: the keys as the toolkit names them, separated by commas; the first is shown in the footer.
        words: one or two words for the footer and the palette.
        tip: one sentence for the help.
        where: names of the screens, or of the widgets ``list``, ``form``, ``choice``, ``ticks``, ``dialog``.
        action: the action, when it is not the id.
        priority: whether it works even while text is typed and a dialog is open.
    """

    id: str
    keys: str
    words: str
    tip: str
    where: tuple[str, ...]
    action: str = ""
    priority: bool = False

    @property
    def shown(self) -> str:
        """The keys as people read them: ``g or ctrl+g``."""
        return " or ".join(_shown(key) for key in self.keys.split(","))


_SIGNS = {"slash": "/", "minus": "-", "plus": "+", "comma": ",", "equals_sign": "=", "question_mark": "?",
          "escape": "esc", "pageup": "page up", "pagedown": "page down"}  # fmt: skip


def _shown(key: str) -> str:
    return _SIGNS.get(key, key)


KEYS: tuple[Key, ...] = (
    # Everywhere
    Key("today", "1,f2", "Today", "Go to what is due and what was done last.", (EVERYWHERE,), "go('today')"),
    Key("gear", "2,f3", "Gear", "Go to the list of all items.", (EVERYWHERE,), "go('gear')"),
    Key("splices", "3,f4", "Splices", "Go to the diary of splices.", (EVERYWHERE,), "go('splices')"),
    Key("planner", "4,f5", "Planner", "Go to the planner.", (EVERYWHERE,), "go('planner')"),
    Key("bench", "5,f6", "Bench", "Go to the bench: with the plan at hand, or on with what is unfinished there.",
        (EVERYWHERE,)),
    Key("audit", "6,f7", "Audit", "Go to the audit: lists to hand over, labels, old lists taken in, backup.",
        (EVERYWHERE,), "go('audit')"),
    Key("find", "f", "find", "Find anything by letters of its name, or by scanning its tag.", (EVERYWHERE,)),
    Key("find-typing", "ctrl+f", "find", "The same while text is typed.", (EVERYWHERE,), "find", priority=True),
    Key("help", "question_mark", "help", "Show this help; F1 does it while text is typed.", (EVERYWHERE,)),
    Key("help-typing", "f1", "help", "Show this help.", (EVERYWHERE,), "help", priority=True),
    Key("theme", "f8", "day or night", "Change between the light and the dark colours.", (EVERYWHERE,)),
    Key("units", "f9", "metric or imperial", "Change the unit in which lengths are shown.", (EVERYWHERE,)),
    Key("quit", "q,ctrl+q", "quit", "Leave; the screen, the filter and unfinished forms are kept.",
        (EVERYWHERE,)),
    # Lists and records
    Key("open", "enter", "open", "Open what is chosen; in a form, on to the next field.", ("list", "plan-page")),
    Key("back", "escape,ctrl+b", "back", "Go back one step; what was typed is kept.",
        ("gear", "splices", "planner", "bench", "learn", "card", "splice", "form-screen", "inspect", "kits",
         "compare", "audit", "import", "dialog", "help")),
    Key("filter", "slash", "filter", "Type to narrow the list; Enter goes to the list.", LISTS),
    Key("sort", "s", "sort", "Sort by the next column; once more after the last turns back to the first.", LISTS),
    Key("reverse", "S", "turn round", "Sort the other way round.", LISTS),
    Key("kind", "k", "kind", "Show only one kind.", LISTS),
    Key("state", "w", "where it stands", "Show only what stands so: a status or an outcome.", LISTS),
    Key("add", "a", "add", "Add a new record.", (*LISTS, "inspect", "kits")),
    Key("change", "e", "change", "Change the chosen record; a splice is corrected, with a reason.",
        ("gear", "card", "splices", "splice", "inspect", "kits")),
    Key("record", "r,ctrl+r", "record", "Record what happened: an event of an item, a splice from the plan.",
        ("gear", "card", "planner", "bench")),
    Key("strike", "x", "strike out", "Strike out an entry of the history, or a test, with a reason.",
        ("gear", "card", "splices", "splice", "inspect", "kits")),
    Key("copy", "c", "copy", "Copy as a new record, to be changed before it is saved.",
        ("gear", "card", "splices", "splice")),
    Key("plan", "p", "plan", "Plan a splice on this rope.", ("gear", "card", "splices", "splice")),
    Key("undo", "u", "undo", "Take back the last change of the log.",
        ("today", "gear", "card", "splices", "splice", "bench", "audit", "kits")),
    Key("redo", "U", "put back", "Do again what was taken back last.",
        ("today", "gear", "card", "splices", "splice", "bench", "audit", "kits")),
    Key("compare", "equals_sign", "two ropes", "Put two ropes side by side: which one for this job.",
        ("today", "gear", "card", "splices", "splice", "planner", "compare")),
    Key("versions", "v", "versions", "Show the earlier versions of a corrected splice.", ("splices", "splice")),
    Key("narrow", "n", "narrow", "Narrow the diary by rope, construction, method, maker, outcome, difficulty or date.",
        ("splices", "splice")),
    Key("test", "t", "test", "Enter a test of strength of the chosen splice.", ("splices", "splice")),
    Key("photos", "V", "photos", "Show a photo with the system's viewer: of the splice, or add one; of what was found.",
        ("splices", "splice", "gear", "card")),
    Key("learn", "l", "lessons", "Show what splices like this one teach.", ("splices", "splice", "planner")),
    Key("adjust", "d", "correct", "Take an offered correction, of eye or shortening, into the plan, or out again.",
        ("learn", "planner")),
    Key("rope", "o", "rope's card", "Go to the card of the splice's rope.", ("splices", "splice")),
    # The planner; its fields hold the focus, so these pass text fields
    Key("page", "g,ctrl+g", "page", "Turn the page; the planner and the bench have several, the audit its fields.",
        ("planner", "bench", "audit"),
        "turn"),
    Key("why", "y,ctrl+o", "why", "Show formula, inputs and source of each number.", ("planner",)),
    Key("last-time", "ctrl+l", "last time", "Show what worked last time, with the reason for each match.",
        ("planner",), "last_time"),
    Key("take", "ctrl+t", "rope", "Choose a rope from the log.", ("planner", "compare")),
    Key("own-method", "C", "own method", "Copy a built-in method into the log, to be changed as your own.",
        ("planner",)),
    Key("read-methods", "R", "read methods", "Read the folder of your own methods again.", ("planner",)),
    Key("beside-up", "pageup", "page beside", "Scroll the page beside the form up.", ("plan-form", "audit-form"),
        "beside(-1)"),
    Key("beside-down", "pagedown", "page beside", "Scroll the page beside the form down.", ("plan-form", "audit-form"),
        "beside(1)"),
    Key("afresh", "ctrl+n", "afresh", "Empty the form and begin afresh.",
        ("planner", "form-screen", "narrow", "inspect")),
    # The audit and what else is handed over or taken in
    Key("labels", "T", "labels", "Write a sheet of labels for the items that the audit lists.", ("audit",)),
    Key("report", "E", "report", "Write the report of a thorough examination, with the particulars that the law asks.",
        ("gear", "card", "audit")),
    Key("import", "I", "import", "Take in a list that was kept elsewhere; every line's fate is shown before.",
        ("audit",)),
    Key("mapping", "M", "keep mapping", "Keep what was said about a list in a file, to be given again.", ("import",)),
    Key("backup", "B", "back up", "Put the whole log, photos included, into one file.", ("audit",)),
    # Gear: what happens to it
    Key("cut", "minus", "cut", "Cut a piece, an end or a trim off the rope; it is said what moves where.",
        ("gear", "card")),
    Key("stand", "O", "in or out", "Take it out of service or back: quarantine, release, retire, lost, found.",
        ("gear", "card")),
    Key("hand", "L", "hand over", "Lend, take back, give to somebody; put into a kit; hand a whole kit over.",
        ("gear", "card", "kits")),
    Key("several", "A", "several", "Add several alike, with their serials.", ("gear",)),
    Key("kits", "K", "kits", "Show the kits: what belongs together and who has it.", ("today", "gear", "card")),
    Key("put", "plus", "put in", "Put an item into the kit, by letters or by scanning its tag.", ("kits",)),
    Key("day", "D", "past day", "Show all gear as it stood on a past day; nothing can be changed there.",
        ("gear", "card")),
    Key("rules", "comma", "you and your rules", "Say who you are and which rule sets say when gear is due.",
        ("today", "gear", "card")),
    # Inspecting: a letter takes an answer as it does in any choice, by its first letter
    Key("inspect", "i", "inspect", "Inspect the chosen item: what to look at, one key an answer.",
        ("today", "gear", "card")),
    Key("answer-pass", "p", "pass", "Inspecting: the line passes.", ("inspect",), "answer('pass')"),
    Key("answer-watch", "w", "watch", "Inspecting: it is to be watched.", ("inspect",), "answer('watch')"),
    Key("answer-fail", "f", "fail", "Inspecting: it fails; what was seen is asked for.", ("inspect",),
        "answer('fail')"),
    Key("answer-not", "n", "does not apply", "Inspecting: it does not apply.", ("inspect",),
        "answer('not-applicable')"),
    Key("pass-rest", "P", "pass the rest", "Inspecting: let the rest pass, once each line was seen.", ("inspect",)),
    # The bench
    Key("done", "space,enter", "done", "At the bench: the step is done; after the last one, fill in the record.",
        ("bench",)),
    Key("measure", "m", "measure", "Type what the tape said; it is told at once what it means.", ("bench",)),
    Key("step-before", "b,left", "step before", "Back one step.", ("bench",)),
    Key("jot", "j", "remark", "Jot a remark down at this step.", ("bench",)),
    Key("hold", "h", "clock", "Hold the clock, or let it run again.", ("bench",)),
    Key("count", "H", "count the time", "Count the time in which no key was pressed.", ("bench",)),
    Key("give-up", "X", "give up", "Give the splice up, with a reason; what was done is kept.", ("bench",)),
    # Forms and dialogs
    Key("save", "ctrl+s", "save",
        "Save the form; of an inspection, go on to its verdict; of a plan or an audit, write it to a file; of an "
        "import, save its items.",
        ("form", "inspect", "planner", "audit", "import", "file")),
    Key("next-field", "down", "next field", "Go to the next field; Tab does it too.", ("form",), "next_field"),
    Key("previous-field", "up", "field before", "Go to the field before; Shift+Tab does it too.", ("form",),
        "previous_field"),
    Key("previous-choice", "left", "before", "Take the choice before.", ("choice", "ticks"), "previous_choice"),
    Key("next-choice", "right", "next", "Take the next choice.", ("choice", "ticks"), "next_choice"),
    Key("pick", "space", "pick", "Pick from the whole list by typing; in a list of ticks, set or clear the tick.",
        ("choice", "ticks")),
    Key("clear", "backspace,delete", "clear", "Clear the choice.", ("choice",)),
    # Moving in a list
    Key("row-up", "up", "up", "One row up.", ("list", "choose"), "row(-1)"),
    Key("row-down", "down", "down", "One row down.", ("list", "choose"), "row(1)"),
    Key("page-up", "pageup", "page up", "One page up.", ("list",), "page(-1)"),
    Key("page-down", "pagedown", "page down", "One page down.", ("list",), "page(1)"),
    Key("first", "home", "first", "To the first row.", ("list",)),
    Key("last", "end", "last", "To the last row.", ("list",)),
)  # fmt: skip
"""The table. Add a row here for every new key; tests hold that none clashes and none is unsendable."""

MOVES = frozenset({"up", "down", "left", "right", "home", "end", "pageup", "pagedown"})
"""Keys that move; what they move is told by where one is, so they may stand in several rows."""

ACTS = frozenset({"enter", "space"})
"""Keys that do the next thing; what that is is told by where one is, so they too may stand in several rows."""

ANSWERS = frozenset({"answer-pass", "answer-watch", "answer-fail", "answer-not"})
"""Rows whose letters take a word by its first letter, as any choice does; what they mean elsewhere waits meanwhile."""

FOOTERS: dict[str, tuple[str, ...]] = {
    "today": ("open", "inspect", "gear", "splices", "planner", "undo"),
    "gear": ("open", "filter", "add", "inspect", "record", "plan"),
    "card": ("inspect", "record", "stand", "cut", "plan", "back"),
    "splices": ("open", "filter", "narrow", "add", "copy", "learn"),
    "splice": ("change", "copy", "test", "photos", "learn", "back"),
    "learn": ("adjust", "back"),
    "planner": ("page", "take", "record", "last-time", "why", "back"),
    "bench": ("done", "measure", "step-before", "jot", "hold", "back"),
    "import": ("open", "save", "mapping", "back"),
    "audit": ("save", "page", "labels", "import", "backup", "back"),
    "kits": ("add", "put", "strike", "hand", "change", "back"),
    "inspect": ("answer-pass", "answer-watch", "answer-fail", "answer-not", "add", "save"),
    "compare": ("compare", "take", "back"),
    "form-screen": ("save", "next-field", "pick", "afresh", "back"),
}
"""The six most important keys of each screen, in the footer's order; '? help' comes after them."""


OWN_WORDS: dict[tuple[str, str], tuple[str, str]] = {
    ("kits", "strike"): ("take out", "Take the item out of the kit."),
    ("import", "open"): ("answer", "Answer the chosen question or line, or say what the column holds."),
}
"""Screens on which a key's meaning has a plainer name: its words and its sentence there."""


def key(name: str) -> Key:
    """The row with this id; raises KeyError."""
    return _BY_ID[name]


_BY_ID = {row.id: row for row in KEYS}


def keys_of(*where: str) -> tuple[Key, ...]:
    """The rows that work on any of these screens or widgets, in the table's order, in the words of the first."""
    return tuple(_there(row, where[0]) for row in KEYS if any(place in row.where for place in where))


def key_at(name: str, place: str) -> Key:
    """The row with this id in the words of a screen; raises KeyError."""
    return _there(key(name), place)


def _there(row: Key, place: str) -> Key:
    words, tip = OWN_WORDS.get((place, row.id), (row.words, row.tip))
    return replace(row, words=words, tip=tip)


def bindings(*where: str) -> list[BindingType]:
    """Bindings for a screen or widget of these names, in the table's order."""
    return [
        Binding(row.keys, row.action or row.id.replace("-", "_"), row.words, id=f"{where[0]}.{row.id}",
                tooltip=row.tip, show=False, priority=row.priority)
        for row in keys_of(*where)
    ]  # fmt: skip
