"""Tests of timetables: calendar files read, matched with what exists, and written down by hand."""
