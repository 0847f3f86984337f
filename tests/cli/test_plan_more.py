"""gearlog plan with all that the planner knows: lengths both ways, tools, knots, hardware, explanations, the card."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Call

HOLLOW = ("hollow-eye", "--construction", "hollow-braid", "--fibre", "polyester", "--diameter", "12 mm")
EYE = ("--eye", "150 mm")


def planned(call: Call, *arguments: str) -> dict[str, Any]:
    ended = call("plan", *arguments, "--json")
    assert ended.code in (0, 1), ended.err
    plan: dict[str, Any] = json.loads(ended.out)
    return plan


def test_the_cut_length_for_a_wanted_one_its_shortening_and_the_fill(call: Call) -> None:
    """Throat to end 6 m: 6 + 0.504 + 0.3 m and what the bury shortens; 20 deg swollen sqrt 2 times keeps 0.9314."""
    plan = planned(call, *HOLLOW, *EYE, "--strands", "12", "--finished", "6 m")
    over = plan["shortening"]
    assert {"ratio", "braid_angle_deg", "swelling", "source", "length_m"} <= set(over)
    assert over["ratio"] == pytest.approx(0.9314, abs=5e-5)
    assert plan["cut_length_m"] == pytest.approx(6.804 + over["length_m"])
    assert all(set(point) == {"at_m", "fraction"} for point in plan["fill"])
    assert plan["fill"][0] == {"at_m": pytest.approx(0.804), "fraction": 1.0}
    assert planned(call, *HOLLOW, *EYE)["cut_length_m"] is None


def test_the_users_own_braid_goes_before_the_default(call: Call) -> None:
    """trade.md part A: b = 15 deg, k = 1.3 gives ratio 0.9749."""
    plan = planned(call, *HOLLOW, *EYE, "--braid-angle", "15", "--swelling", "1.3")
    assert plan["shortening"]["ratio"] == pytest.approx(0.9749, abs=5e-5)
    assert "the user's own" in plan["shortening"]["source"]


@pytest.mark.parametrize(("typed", "metres"), [("12 mm more; n 4", 0.012), ("1/2 in less", -0.0127)])
def test_a_learned_shortening_is_taken_on_request_and_said(call: Call, typed: str, metres: float) -> None:
    """Throat to end 6 m: the cut length grows by what was learned at each end."""
    asked = (*HOLLOW, *EYE, "--finished", "6 m")
    plain, both = planned(call, *asked), planned(call, *asked, "--both-ends")
    taken = planned(call, *asked, "--shortening-correction", typed)
    assert taken["cut_length_m"] == pytest.approx(plain["cut_length_m"] + metres)
    assert taken["shortening"]["length_m"] == pytest.approx(plain["shortening"]["length_m"] + metres)
    assert ("n 4" if metres > 0 else "typed by hand") in taken["shortening"]["source"]
    (said,) = [check for check in taken["checks"] if check["code"] == "shortening-corrected"]
    assert ("more" if metres > 0 else "less") in said["message"]
    twice = planned(call, *asked, "--both-ends", "--shortening-correction", typed)
    assert twice["cut_length_m"] == pytest.approx(both["cut_length_m"] + 2 * metres)
    assert all(check["code"] != "shortening-corrected" for check in plain["checks"])


@pytest.mark.parametrize("typed", ["12 mm", "12 more", "-3 mm more", "12 mm longer", "much more"])
def test_a_shortening_that_cannot_be_is_one_line_and_a_wrong_call(call: Call, typed: str) -> None:
    ended = call("plan", *HOLLOW, *EYE, f"--shortening-correction={typed}")
    assert (ended.code, ended.out) == (2, "")
    assert ended.err.count("\n") == 1
    assert ended.err.startswith("gearlog: --shortening-correction: ")


def test_a_rope_that_would_grow_over_its_bury_is_warned_of(call: Call) -> None:
    plan = planned(call, *HOLLOW, *EYE, "--shortening-correction", "900 mm less")
    assert "shortening-below-nothing" in {check["code"] for check in plan["checks"] if check["level"] == "warn"}


def test_tools_knots_and_hardware_may_be_given_several_times(call: Call) -> None:
    tools = ("--tool", "wire fid:0.3 m:4 mm", "--tool", "short fid:200 mm")
    chain = ("--mbs", "24 kN", "--knot", "bowline", "--knot", "clove-hitch", "--hardware", "ring:10 kN")
    plan = planned(call, *HOLLOW, *EYE, *tools, *chain)
    assert [tool["name"] for tool in plan["inputs"]["tools"]] == ["wire fid", "short fid"]
    assert {pull["tool"] for pull in plan["pulls"]} == {"wire fid"}
    assert len(plan["pulls"]) == 2
    names = [link["name"] for link in plan["strength"]["chain"]]
    assert names == ["rope", "buried eye in hollow braid", "bowline", "clove hitch", "ring"]
    assert plan["strength"]["wll_n"] is None  # what a buried eye keeps is not known
    assert plan["strength"]["weakest"].startswith("clove hitch, of the parts")


def test_a_sling_is_planned_from_its_two_settings(call: Call) -> None:
    sling = ("hollow-sling", *HOLLOW[1:], *EYE, "--shortest", "2.5 m", "--longest", "4 m")
    plan = planned(call, *sling)
    assert plan["cut_length_m"] == pytest.approx(plan["finished"]["cut_m"])
    ended = call("plan", *sling[:-2])
    assert (ended.code, ended.out) == (2, "")
    assert "--longest" in ended.err


def test_yes_is_said_by_the_option_alone(call: Call) -> None:
    laid = ("laid-eye", "--construction", "three-strand", "--diameter", "12 mm", "--eye", "150 mm", "--finished", "3 m")
    plain, both = planned(call, *laid), planned(call, *laid, "--both-ends", "--tapered")
    assert plain["inputs"]["both_ends"] is False
    assert both["inputs"]["both_ends"] is both["inputs"]["tapered"] is True
    assert both["tucks"]["tapered"] == 2


def test_what_changes_nothing_is_told_and_left_out(call: Call) -> None:
    ended = call("plan", "whip-common", *HOLLOW[1:], "--eye", "150 mm", "--tapered")
    assert ended.code == 0
    assert "--eye changes nothing in 'whip-common'" in ended.err
    assert "--tapered" in ended.err
    assert "Traceback" not in ended.err


def test_every_number_is_explained_in_words_and_in_json(call: Call) -> None:
    ended = call("plan", *HOLLOW, *EYE, "--explain")
    assert "Explained marks[1].at_m: mark b, throat on the tail: 504 mm" in ended.out
    assert "  worked: 2 * 252 mm" in ended.out
    assert ended.out.count("  source: ") == ended.out.count("Explained ")
    plan = planned(call, *HOLLOW, *EYE, "--explain")
    told = {one["key"]: one for one in plan["explained"]}
    assert told["lengths[0].length_m"]["number"] == plan["lengths"][0]["length_m"]
    assert told["lengths[0].length_m"]["common_practice"] is True
    assert "explained" not in planned(call, *HOLLOW, *EYE)


@pytest.mark.parametrize(("name", "starts"), [("eye.pdf", b"%PDF"), ("eye.HTML", b"<!doctype"), ("eye.svg", b"<")])
def test_a_card_is_written_and_never_over_a_file_that_is_there(
    call: Call, tmp_path: Path, name: str, starts: bytes
) -> None:
    file = tmp_path / name
    ended = call("plan", *HOLLOW, *EYE, "--json", "--card", str(file))
    assert ended.code == 0
    assert json.loads(ended.out)["method"] == "hollow-eye"
    assert file.read_bytes().lower().startswith(starts.lower())
    assert str(file) in ended.err
    file.write_bytes(b"mine")
    refused = call("plan", *HOLLOW, *EYE, "--card", str(file))
    assert refused.code == 2
    assert "--force" in refused.err
    assert file.read_bytes() == b"mine"
    assert call("plan", *HOLLOW, *EYE, "--card", str(file), "--force", "--paper", "letter").code == 0
    assert file.read_bytes() != b"mine"
    assert [path.name for path in tmp_path.iterdir() if path.suffix == ".new"] == []


def test_the_card_of_a_stopped_plan_bears_the_stop(call: Call, tmp_path: Path) -> None:
    file = tmp_path / "eye.html"
    assert call("plan", *HOLLOW, *EYE, "--lay", "tight", "--card", str(file)).code == 1
    assert "STOP" in file.read_text(encoding="utf-8")


@pytest.mark.parametrize("extra", [("--force",), ("--paper", "a4"), ("--card", "eye.png"), ("--card", "-")])
def test_a_card_that_cannot_be_is_a_wrong_call(call: Call, extra: tuple[str, ...]) -> None:
    ended = call("plan", *HOLLOW, *EYE, *extra)
    assert (ended.code, ended.out) == (2, "")
    assert "--card eye.pdf" in ended.err
