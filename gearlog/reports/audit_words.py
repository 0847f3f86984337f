"""What every form of an audit says in the same words: its head, its parts, and what is missing."""

from __future__ import annotations

from gearlog.domain.audited import Audit, AuditItem, Examined, Particular, Spliced
from gearlog.domain.vocabulary import Status, Use, label
from gearlog.reports.words import plural

MISSING = "MISSING"
"""Stands where a standard asks for something that is not on record."""
NOT_ON_RECORD = "not on record"
"""Stands where nothing is on record and no standard asks for it."""
TITLE = "Gear audit"
SIGNED_BY = ("List handed over by", "Audited by")
CANONICAL = (
    "Content digest: SHA-256 of the listed records, each as one line: its kind, a space, its JSON with sorted keys and "
    "no spaces, a line feed; UTF-8, lines sorted. Two lists with the same digest list the same records."
)
"""How the digest is made, so that anybody can make it."""
DIGEST_GROUP = 8


def head_lines(audit: Audit) -> tuple[str, ...]:
    """What is listed, as of when, and how much of it there is."""
    late = f"; entries written down after that day: {audit.late}" if audit.late else ""
    return (
        f"As of {audit.on}. Listed: {audit.chosen}. What left use since {audit.since} is told.",
        f"{counts(audit)}{late}.",
        f"List made on {audit.made_on} from the records of gearlog.",
    )


def counts(audit: Audit) -> str:
    """How many items, examinations and splices are listed."""
    return ", ".join(
        (
            plural(len(audit.items), "item"),
            plural(len(audit.examinations), "examination"),
            plural(len(audit.splices), "splice"),
        )
    )


def summary(audit: Audit) -> tuple[tuple[str, int], ...]:
    """The numbers that an examiner looks at first."""
    return (
        ("items listed", len(audit.items)),
        ("overdue", len(audit.overdue)),
        ("in quarantine", len(audit.quarantined)),
        (f"left use since {audit.since}", len(audit.retired)),
        ("in use with a particular missing", len(audit.with_gaps)),
    )


def digest_groups(digest: str) -> str:
    """The digest in groups that the eye can compare."""
    return " ".join(digest[at : at + DIGEST_GROUP] for at in range(0, len(digest), DIGEST_GROUP))


def attention(audit: Audit) -> tuple[tuple[str, tuple[tuple[AuditItem, str], ...]], ...]:
    """What asks for attention: (heading, items with why)."""
    return (
        ("Overdue", tuple((item, item.due_reason) for item in audit.overdue)),
        ("In quarantine", tuple((item, item.due_reason) for item in audit.quarantined)),
        (
            f"Left use since {audit.since}",
            tuple((item, f"{item.left_on}: {item.left_how}") for item in audit.retired),
        ),
    )


def shown(particular: Particular) -> str:
    """A particular's text, or that there is none."""
    return particular.text or (MISSING if particular.asked else NOT_ON_RECORD)


def status_words(item: AuditItem) -> str:
    """Where an item stands."""
    return label(item.status)


def next_due(item: AuditItem) -> str:
    """When an item is due, in words that are never empty."""
    if item.due_on is not None:
        return item.due_on.isoformat()
    return "before use" if item.overdue else item.due


def label_words(item: AuditItem) -> str:
    """What stands on an item's label beneath its name; gear that lifts loads is marked as not for people."""
    return f"{_label_due(item)}{', NOT FOR PEOPLE' if item.used_for == label(Use.RIGGING) else ''}"


def _label_due(item: AuditItem) -> str:
    if item.status is not Status.IN_SERVICE:
        return status_words(item).upper()
    if item.due_on is not None and item.due_on.isoformat() == item.text("life_end"):
        return f"{'LIFE ENDED' if item.overdue else 'life ends'} {item.due_on}"
    return f"OVERDUE {item.due_on}" if item.overdue and item.due_on is not None else f"due {next_due(item)}"


def result_of(one: Examined) -> str:
    """What an examination came to; own words are no result."""
    return one.result or MISSING


def findings_of(one: Examined) -> tuple[str, ...]:
    """What an examination found, and own words; a record without a place for findings does not say there were none."""
    seen = one.findings or (("none",) if one.told else ())
    return (*seen, *((f"remarks: {one.remarks}",) if one.remarks else ())) or (MISSING,)


def seen_of(one: Examined) -> tuple[str, ...]:
    """What an examination found, without own words."""
    return one.findings or ("none" if one.told else "see remarks" if one.remarks else MISSING,)


def tests_of(one: Spliced) -> tuple[str, ...]:
    """The tests of a splice."""
    return one.tests or ("no test on record",)
