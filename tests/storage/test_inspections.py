"""Inspections and kits lie in tables of their own; a log without them opens as it was."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.inspection import Answer, Finding, Independence, Inspection, InspectionKind, Mark, Severity, Verdict
from gearlog.domain.item import Item
from gearlog.domain.kit import Kit
from gearlog.services.sample import demo_folder
from gearlog.storage import open_store
from gearlog.units.measure import Length
from tests.storage.conftest import START

NEW = ("inspections", "kits")
NEW_OF_EVENT = ("cut_as", "piece_id", "to", "findings")
NEW_OF_ITEM = ("device", "came", "colour_mark", "former_tags", "contact")


def inspection() -> Inspection:
    return Inspection(
        id="i1",
        created_at=START,
        changed_at=START,
        item_id="a",
        kind=InspectionKind.AFTER_EVENT,
        inspected_on=PartialDate.read("2024-05"),
        inspector="[/] \u05d7\u05d1\u05dc",
        competence="course",
        independent=Independence.NO,
        answers=(Answer(line="splice-throat@A", asked="Throat", mark=Mark.NOT_APPLICABLE, words="none"),),
        findings=(Finding(id="f1", severity=Severity.STOP, words="cut", at=Length.read("5' 6\""), photos=("a.jpg",)),),
        ruled=Verdict.OUT_OF_SERVICE,
        verdict=Verdict.RETIRE,
        next_due_on=PartialDate.read("2025"),
    )


def test_an_inspection_and_a_kit_come_back_as_they_were_saved(folder: Path, clock: Callable[[], datetime]) -> None:
    kit = Kit(id="k1", created_at=START, changed_at=START, tag="kit-1", name="kit", items=("a", "b"))
    with open_store(folder, now=clock) as store:
        store.save(inspection(), kit, label="both in one save")
    with open_store(folder, now=clock) as store:
        assert store.notices == ()
        assert (store.records(Inspection), store.records(Kit)) == ((inspection(),), (kit,))
        assert store.undo() == "both in one save"
        assert (store.records(Inspection), store.records(Kit)) == ((), ())


def test_a_log_from_before_inspections_opens_unchanged(tmp_path: Path, clock: Callable[[], datetime]) -> None:
    """The demo log with all that was added since taken out of it, as an earlier program wrote it."""
    folder = tmp_path / "old"
    shutil.copytree(demo_folder(), folder)
    with open_store(folder, now=clock) as store:
        items, events = store.records(Item), store.records(Event)
    (folder / "log.journal").unlink()
    snapshot = json.loads((folder / "log.json").read_text(encoding="utf-8"))
    for name in NEW:
        snapshot.pop(name, None)
    for table, names in (("events", NEW_OF_EVENT), ("items", NEW_OF_ITEM)):
        for row in snapshot[table].values():
            for name in names:
                row.pop(name, None)
    (folder / "log.json").write_text(json.dumps(snapshot, ensure_ascii=False), encoding="utf-8")
    with open_store(folder, now=clock) as store:
        assert not any("cannot be read" in notice for notice in store.notices)
        assert [item.id for item in store.records(Item)] == [item.id for item in items]
        assert [(event.id, event.kind, event.length) for event in store.records(Event)] == [
            (event.id, event.kind, event.length) for event in events
        ]
        assert store.records(Inspection) == ()
