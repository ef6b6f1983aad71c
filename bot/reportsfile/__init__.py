"""Ratings as CSV: collected on paper or in a spreadsheet, or exported by the bot itself."""

from bot.reportsfile.read import MOST_BYTES, ReportsFile, read_reports_file
from bot.reportsfile.sheet import COLUMNS, safe

__all__ = ["COLUMNS", "MOST_BYTES", "ReportsFile", "read_reports_file", "safe"]
