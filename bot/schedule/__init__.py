"""What happens because time passes: the database says what is due, an alarm clock wakes us."""
