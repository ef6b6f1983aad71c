"""The cautions: what to do about pain and warning signs, and what this bot is not."""

from bot.words.speech import later

WARNING_SIGNS = later(
    "chest pain or pressure, fainting or dizziness, unusual breathlessness, an irregular "
    "heartbeat, dark urine, numbness"
)
"""The list for stopping exercise of the American College of Sports Medicine; dark urine: the
National Institute for Occupational Safety and Health, on muscle breakdown."""

WARNING_ADVICE = later(
    "<b>Stop, and get medical help.</b> If it is still there or came on strongly, call your local "
    "emergency number now. Don't train again before a licensed professional has said you may. "
    "Your instructor has been told."
)

PAIN_ADVICE = later(
    "Please rest whatever hurts. If it is strong, on one side only, or still there in a few days, "
    "let a licensed professional look at it. Your instructor has been told, and nothing that "
    "hurts gets harder until you have both said it's fine again."
)

SORENESS_ADVICE = later(
    "Sore muscles on both sides, fading within three days, are usual. If it gets worse than "
    "you'd expect, or your urine turns dark, get medical help at once."
)

NO_DEVICE = later(
    "This bot is no medical device. Its suggestions are rough: stop when something feels wrong. "
    "What your doctor, your instructor and local rules say always comes first."
)

SHORT_CAUTION = later("Only a suggestion: stop when it feels wrong.")
