"""What stands on a bench card, section by section, before it is laid out as HTML, PDF or SVG."""
