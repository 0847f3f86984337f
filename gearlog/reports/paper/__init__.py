"""Printed paper: fonts, pages, tables that run over pages, and the line at the foot of each page."""
