"""Short answers to a press, which only the presser sees."""

from bot.words.message import Toast

NOTED = Toast(text="Noted.")
NOT_YOURS = Toast(text="This button doesn't work for you.")
CLOSED = Toast(text="This question is closed.")
OUTDATED = Toast(text="This button is no longer in use.")
SEEN = Toast(text="Marked as seen.")
ALREADY_SEEN = Toast(text="That was already marked as seen.")
CLEARED = Toast(text="Noted. It takes both of you: the member and the instructor.")
GET_HELP = Toast(text="Stop, and get medical help. Call your local emergency number.", stays=True)
