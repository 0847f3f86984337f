"""One form for each method that comes with the program, as a user would type it."""

from __future__ import annotations

HOLLOW = {
    "construction": "hollow-braid", "strands": "12", "lay": "loose", "fibre": "polyester", "diameter": "12 mm",
    "mbs": "30 kN",
}  # fmt: skip
COVER = {
    "construction": "cover-loaded", "strands": "16", "fibre": "polyester", "core_fibre": "polyamide",
    "diameter": "12.7 mm", "mbs": "24 kN",
}  # fmt: skip
DOUBLE = {
    "construction": "double-braid", "strands": "24", "fibre": "polyester", "core_fibre": "polyester",
    "diameter": "12 mm", "mbs": "30 kN",
}  # fmt: skip
LAID = {"construction": "three-strand", "strands": "3", "fibre": "polyamide", "diameter": "12 mm", "mbs": "30 kN"}
EYE = {"eye": "150 mm", "pin": "50 mm"}
FID = {"fid": "300 mm", "fid_thickness": "5 mm"}
SETTINGS = {"shortest": "2.5 m", "longest": "4 m"}
FORMS: dict[str, dict[str, str]] = {
    "core-eye": DOUBLE | EYE | FID | {"construction": "core-loaded", "strands": "12", "core_fibre": "hmpe"},
    "cover-eye": COVER | EYE | FID | {"finished": "6 m", "both_ends": "yes"},
    "double-cord": DOUBLE | EYE | FID | {"finished": "6 m"},
    "double-end-to-end": DOUBLE | FID | {"finished": "6 m"},
    "double-eye": DOUBLE | EYE | FID | {"finished": "6 m"},
    "hollow-end-to-end": HOLLOW | FID | {"braid_angle": "22", "swelling": "1.4"},
    "hollow-endless-sling": HOLLOW | FID | SETTINGS,
    "hollow-eye": HOLLOW | EYE | FID | {"length": "10 m", "knot": "bowline", "hardware": "connector:23 kN"},
    "hollow-locked-eye": HOLLOW | EYE | FID | {"tool": "wire fid:600 mm:3 mm", "condition": "used"},
    "hollow-loop": HOLLOW | FID | {"finished": "2 m"},
    "hollow-sling": HOLLOW | EYE | FID | SETTINGS,
    "laid-back": LAID | {"measured_diameter": "12.4 mm"},
    "laid-eye": LAID | EYE | {"tapered": "yes", "lay_length": "36 mm"},
    "laid-long": LAID,
    "laid-short": LAID | {"tapered": "yes"},
    "lock-stitch": HOLLOW | {"twine": "1 mm"},
    "throat-seizing": HOLLOW | {"twine": "1 mm"},
    "whip-common": LAID | {"twine": "1 mm"},
    "whip-sailmaker": LAID,
    "whip-stitched": COVER,
}  # fmt: skip
