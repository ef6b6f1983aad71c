"""Tests of timetables: calendar files read, matched with what exists, written by hand."""
