"""A plan as a vector drawing in black on white: to scale, patterns instead of colours, the same for SVG and PDF."""
