"""Tests of the pictures: what is written on them, that they aren't blank, and that they fit."""
