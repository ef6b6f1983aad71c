"""Tests of the house itself: signs, map, prose, settings, floors."""
