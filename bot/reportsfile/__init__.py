"""Ratings collected on paper or in a spreadsheet, read from CSV."""

from bot.reportsfile.read import MOST_BYTES, ReportsFile, read_reports_file
from bot.reportsfile.sheet import COLUMNS

__all__ = ["COLUMNS", "MOST_BYTES", "ReportsFile", "read_reports_file"]
