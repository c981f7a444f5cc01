"""Every sentence the report says of itself, in one place; sentences of the trade come from the rules."""

from __future__ import annotations

from collections.abc import Mapping

# -- headings
STOPS = "STOP"
VERDICT = "The advice"
END_VERDICT = "No advice on a method"
INCOMPLETE_VERDICT = "Answers are missing"
INCOMPLETE_FIRST = "Before any advice is safe, answer these questions."
TURN_TO = "Whom to turn to"
TODAY = "Today"
WHY = "Why this way"
WHY_AND_NOT = "Why this way, and why not another"
WHY_NOT = "Why not the others"
BALANCE = "The whole balance"
CHOICES = "What to use"
CAUSES = "What it may be"
REVIEW = "Your plan, point by point"
SPECIFICATION = "How it is to be made"
QUANTITIES = "How much"
BUY = "What to buy"
BATCHES = "In batches"
STEPS = "What to do, step by step"
PRODUCTS = "The products at hand"
QUERY = "Odd"
CHECKS = "Will it hold"
ONWARD = "Going on from here"
CAUTIONS = "Cautions"
DISPUTED = "Where practitioners disagree"
TOLD = "What was told"
ASSUMED = "What was assumed"
MISSING = "What is missing"
PIVOTAL = "Answers that were not known"
CONFIRM = "Numbers to read on the maker's sheet"
WORDS = "Words used"
SOURCES = "Sources"
TRACE = "How this was reached"

FAILING = "Margins that fail"
IN_DOUBT = "Margins in doubt"
AMPLE = "Ample"
SEE_CHECKS = "see \"Will it hold\" below"

# -- today
TODAY_SAYS: Mapping[str, str] = {
    "go": "GO. Nothing that was told of today's conditions speaks against starting.",
    "wait": "WAIT. Put the points below right first, then start.",
    "no_go": "NO-GO. Nothing is mixed, glued or laid under these conditions.",
}
GO_BELOW_A_STOP = ("Nothing speaks against weather and materials. But what stands under STOP comes first, and until it "
                   "is met nobody starts.")
CONDITION: Mapping[str, str] = {"go": "Go", "wait": "Wait", "no_go": "No-go"}

# -- the review of a plan
REVIEW_VERDICT: Mapping[str, str] = {
    "fails": "Fails", "change": "Would change", "not_told": "Not told, and what decides", "sound": "Sound"}
IN_ORDER = "Would be in order, once what fails is changed"
REVIEW_IN_SHORT = ("What the rules would do themselves follows in short. --details gives the whole of it, with plies, "
                   "amounts and steps.")

# -- why
FOR, AGAINST = "For", "Against"
OUTWEIGHED = "Against it, but outweighed"
ONLY_ONE_LEFT = "It is what is left after the others."
NOTHING_FOR_IT = "Nothing in the answers calls for it."
LESS_FOR_IT = "It would do too, but less speaks for it."
CLOSE_CALL = "nearly as good"
CLOSE = "Nearly as good"
NOT_CHOSEN = "None is left that fits."
STANDING: Mapping[str, str] = {
    "chosen": "chosen", "possible": "possible", "ruled_out": "ruled out",
    "nothing_for_it": "nothing speaks for it",
}
STRENGTH: Mapping[str, str] = {
    "require": "must be", "favour": "for it", "oppose": "against it", "rule_out": "rules it out",
    "withdraw": "taken back, because a margin fails",
}

# -- causes
LIKELIEST, AS_LIKELY, LESS_LIKELY = "Likeliest", "About as likely", "Less likely"

# -- amounts
BASIS = "Worked out from"
AS_NEEDED = "as needed"
BUY_HIGH_END = "Amounts are the high end of what may be needed; packs cover the whole range."
FROM_IT = "Out of that"
BY_EYE = "Without a measured amount"
EACH = "each"
NEEDED, TO = "needed", "to"
SPREAD_FROM = "Most of that range comes from"
BATCH_HEADINGS = ("Batch", "Mix", "Start after", "In place within", "Stop at")
BATCH_CLOCK = ("Start times count from the first batch; the last two columns count from the moment you begin to mix "
               "that batch. Start a clock for every cup.")

ALARM_MARK = ">>  "

# -- steps
STEPS_FIRST = "Read the cautions below before the first step."
STEPS_MORE = ("How to tell that each step is right, and what to do if it is not, stands on the job sheet (`advisor "
              "sheet`), to take to the bench, and here with --details.")
DURATION, HOLD_POINT, RIGHT_WHEN, IF_NOT = "Time", "HOLD POINT", "Right when", "If not"
BECAUSE, SAID_BY = "Why", "Source"

# -- checks
CHECK_HEADINGS = ("What", "Value", "Limit", "Spare", "Margin")
BOUND: Mapping[str, str] = {"at_least": "at least", "at_most": "at most"}
SHORT = "short by"
STRADDLES, RESTS_ON = "Not sure either way", "Rests on what was not known"
FORMULA, WITH_NUMBERS = "Formula", "With the numbers"
MARGIN: Mapping[str, str] = {
    "ample": "ample", "adequate": "adequate", "thin": "THIN", "doubtful": "DOUBTFUL", "fails": "FAILS"}
NOT_TAKEN = "not relied on"
BETWEEN, NOT_SURE = "between {low} and {high}", "not sure"
SHARES = ((0, "nothing"), (1 / 4, "a quarter"), (1 / 3, "a third"), (1 / 2, "half"), (2 / 3, "two thirds"),
          (3 / 4, "three quarters"), (1, "all of it"))

# -- going on
ONWARD_LINES = "Lines of the answer file that change"
ONWARD_HOW = "The interview offers this once the advice is shown, and asks only what is not known yet."

# -- cautions
SIGNAL: Mapping[str, str] = {"stop": "STOP", "danger": "DANGER", "care": "CAUTION", "note": "NOTE"}
ABOVE_US = "Above this advice"
MAKER_SAYS = "The maker of {product} says"
ALL_ABOVE_US = ("Above this advice stand the makers' data sheets, local rules and licensed people. --details names "
                "who, beside each caution.")

# -- what was not known
TAKEN_AS = "Taken as"
CONFIRM_HEADING, UNTIL_THEN = "On the sheet", "Until then taken as"
CONFIRM_FIRST = "The maker's sheet goes above every number here; read it before you buy or mix."
CONFIRM_CARD = "`advisor card FILE` asks for its numbers one by one and says where on the sheet each stands."
DECIDES = "This answer decides"
FIND_OUT_FIRST = ("Too much is not known yet for a plan that anybody should buy or work from. Find out what stands "
                  "under \"Answers that were not known\", and answer again.")
AS_THINGS_STAND = "As things stand, it would be this; --details gives the whole of it"
WEIGHED_MOST = "These answers weighed most"
VARY_TRIES = "`advisor vary` tries others."
NO_MATTER = "No answer changes method or materials"
NO_MATTER_TEXT = "How far and when to work may still hang on it."
IF_ANSWER = "if"
FIND_OUT = "How to find out"

# -- sources
COMMON_PRACTICE, FROM_MEMORY = "common practice", "from memory"
COMMON_PRACTICE_IN_FULL = "Common practice of the trade, not taken from one publication"
FROM_MEMORY_IN_FULL = "Published values recalled from memory and not looked up"
NOT_OPENED = "named from memory; the document itself was not opened"
COUNTED = ("{count} in all, common practice and values recalled from memory among them. --details names each beside "
           "its line, and gives every reason, formula, caution and dispute in full.")
STAMP = "Rules version {version}, mark {mark}."

# -- trace
FOLLOWS_FROM = "From"
