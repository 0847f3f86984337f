"""What every drawing of a plan is made from: stretches, tapers, sections, and the rope fitted on a page."""
