"""Records into text and bytes: plain lines, tables, CSV, JSON. No files."""
