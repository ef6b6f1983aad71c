"""The checks: one folder for each part of the house, and journeys through all of it."""
