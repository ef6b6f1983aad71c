"""Pictures: charts for every kind of eyes, drawn by a process that comes and goes."""
