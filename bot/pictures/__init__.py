"""Pictures: charts for a phone, in light and dark, for every kind of eyes."""
