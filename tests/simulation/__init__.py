"""Simulated rooms: a plan, a class of simulated members, and the weeks they train."""
