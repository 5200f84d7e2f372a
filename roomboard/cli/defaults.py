"""What the commands take unless they are told otherwise."""

PAPERS = ("A4", "A3", "Letter", "Tabloid")

PHONE = "phone"

LABELS = "a4-3x8"

DEFAULT_PACK = "au-nz"

LENGTHS = (
    "Lengths are typed as you like: 3.6 m, 3600, 360cm, 11' 9 3/4\", 11-9 3/4, 4800-2*13. "
    "A number without a unit counts mm, in a feet-inches project inches."
)
