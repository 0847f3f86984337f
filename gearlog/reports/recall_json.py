"""What worked last time for programs: one shape, SI, nothing rounded, nulls where there is too little to say."""

from __future__ import annotations

from typing import Any

from gearlog.domain.recalled import Bias, Counted, Match, Recall, StrengthFound, Summary
from gearlog.domain.splice import Splice


def recall_answer(recall: Recall) -> dict[str, Any]:
    """The matches with what to copy of each, what they add up to, how far off the eyes were, how strong they are."""
    summary = recall.summary
    return {
        "matches": [_match(match) for match in recall.matches],
        "summary": _summary(summary),
        "bias": _bias("eye_m", summary.eye_bias, summary.eyes),
        "shortening": _bias("extra_m", summary.shortening_bias, summary.lengths),
        "strength": _strength(recall.strength),
        "same_rope": None if recall.same_rope is None else _summary(recall.same_rope),
        "groups": [
            {
                "method": group.method,
                "construction": group.construction,
                "summary": _summary(group.summary),
                "bias": _bias("eye_m", group.summary.eye_bias, group.summary.eyes),
            }
            for group in recall.groups
        ],
    }


def _match(match: Match) -> dict[str, Any]:
    return {
        "id": match.splice.id,
        "rope": match.rope.tag if match.rope else None,
        "why": match.why,
        "outcome": match.splice.outcome,
        "made_on": match.splice.made_on,
        "settings": _settings(match.splice),
    }


def _settings(splice: Splice) -> dict[str, Any]:
    """What one would do again, and how it came out; the whole plan stays in the log."""
    inputs = splice.plan.inputs if splice.plan else None
    return {
        "method": splice.method,
        "end": splice.end,
        "condition": splice.condition,
        "eye_m": inputs.eye_m if inputs else None,
        "eye_correction_m": inputs.eye_correction_m if inputs else None,
        "pin_m": inputs.pin_m if inputs else None,
        "tools": splice.tools,
        "finish": splice.finish,
        "minutes": splice.minutes,
        "finished_eye_m": splice.finished_eye.si if splice.finished_eye else None,
        "difficulties": splice.difficulties,
        "difficulty_words": splice.difficulty_words,
        "notes": splice.notes,
    }


def _summary(summary: Summary) -> dict[str, Any]:
    counts = ("made", "good", "with_remark", "remade", "failed", "cut_off", "given_up")
    return {
        **{name: getattr(summary, name) for name in counts},
        "rate": summary.rate,
        "rate_interval": summary.rate_interval,
        "median_minutes": summary.median_minutes,
        "timed": summary.timed,
        "tools": _counted(summary.tools),
        "tools_remade": _counted(summary.tools_remade),
        "difficulties": [
            {"word": noted.word, "times": noted.times, "noted": list(noted.notes)} for noted in summary.noted
        ],
        "scope": summary.scope,
    }


def _bias(name: str, bias: Bias | None, n: int) -> dict[str, Any]:
    return {
        name: bias.mean_m if bias else None,
        "interval_m": (bias.low_m, bias.high_m) if bias else None,
        "n": n,
    }


def _strength(found: StrengthFound | None) -> dict[str, Any] | None:
    if found is None:
        return None
    plain = ("n", "mean_n", "lower_n", "k", "coverage", "confidence", "deviation_n", "proofs", "proof_n", "scope")
    return {name: getattr(found, name) for name in plain} | {"failed_at": _counted(found.failed_at)}


def _counted(words: tuple[Counted, ...]) -> list[dict[str, Any]]:
    return [{"word": counted.word, "times": counted.times} for counted in words]
