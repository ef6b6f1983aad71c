"""The cautions: what to do about pain and warning signs, and what this bot is not."""

WARNING_SIGNS = (
    "chest pain or pressure, fainting or dizziness, unusual breathlessness, an irregular "
    "heartbeat, dark urine, numbness"
)
"""American College of Sports Medicine's list for stopping exercise; dark urine: CDC/NIOSH."""

WARNING_ADVICE = (
    "<b>Stop, and get medical help.</b> If it is still there or came on strongly, call your local "
    "emergency number now. Don't train again before a licensed professional has said you may. "
    "Your instructor has been told."
)

PAIN_ADVICE = (
    "Please rest whatever hurts; if it is strong, one-sided, or still there in a few days, let a "
    "licensed professional look at it. Your instructor has been told. This movement won't get "
    "harder until you both say it's fine again."
)

NO_DEVICE = (
    "This bot is no medical device. Suggestions are rough; stop when something feels wrong. What "
    "your doctor, your instructor and local rules say always comes first."
)

SHORT_CAUTION = "Only a suggestion: stop when it feels wrong."
