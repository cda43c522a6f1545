"""What must be said wherever the work can hurt someone, and what the program does not cover."""

from __future__ import annotations

SPRING = (
    "A compressed valve spring stores enough energy to injure. Wear eye protection and use a proper spring compressor."
)
"""Wherever springs are changed."""

RUNNING = (
    "While the engine runs keep hands, hair, sleeves and tools away from belts, fan and rocker gear; oil and exhaust "
    "are hot enough to burn. Set lash, hot too, only with the engine stopped and the ignition off."
)
"""Wherever lash is set on a warm engine, and at the first start."""

CAUTIONS: tuple[str, ...] = (
    SPRING,
    "A broken or weak spring can drop a valve into the cylinder while the engine runs.",
    "The part maker's sheet, local rules and a qualified engine builder come first. This is a calculation from "
    "what was stated.",
    "Before the engine is started, turn it by hand through two full turns of the crank and feel for contact.",
    RUNNING,
)
"""Shown in the workbook, on the build sheet and in the help, in this order."""

NOT_COVERED: tuple[str, ...] = (
    "Piston-to-valve clearance is not covered: measure it.",
    "Finger followers: ratio times valve load holds, the rest is not covered.",
    "Desmodromic gear is not covered.",
    "Loads are those at rest: inertia, surge and gas force are left out unless a line says otherwise.",
)
"""What the figures do not speak of."""
