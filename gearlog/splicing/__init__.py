"""The planner: methods as data, worked out for one rope. Pure; no files but the methods'."""
