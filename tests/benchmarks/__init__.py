"""Measurements that are run by hand: how good and how fast, not whether."""
