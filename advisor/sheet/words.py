"""Every sentence the sheet says of itself, in one place; sentences of the trade come from the rules."""

from __future__ import annotations

from collections.abc import Mapping

# -- signal words, as ISO 3864 and ANSI Z535 name them
SIGNAL: Mapping[str, str] = {"stop": "STOP", "danger": "DANGER", "care": "CAUTION", "note": "NOTICE"}
TODAY: Mapping[str, str] = {"go": "GO", "wait": "WAIT", "no_go": "NO-GO"}

# -- headings
FIRST = "Stop and read first"
NO_METHOD = "No method is given"
TODAY_HEADING = "Today: go or wait"
REVIEW = "Your plan, point by point"
CAUSES = "What it may be"
BUY = "Buy and lay out"
MAKING = "How it is to be made, and what to cut"
MIXING = "Mixing table"
WORKING_TIME = "Working time"
MARGINS = "Margins: will it hold"
CONFIRM = "Numbers to read on the maker's sheet"
ASSUMED = "Assumed, because nobody knew"
CAUTIONS = "All cautions"
RECKONED = "How it was reckoned"
WHY = "Why this way"
RECORD = "Record of what was done"

# -- phrases
DISCLAIMER = "The maker's data sheet, local rules and licensed practice stand above everything on this sheet."
FAILS = "Margins that fail"
IN_DOUBT = "Margins in doubt"
READ_BEFORE = "Write the readings of now before any can is opened."
READING, GO_WHEN, MEASURED, AT = "Reading", "Go when", "Measured", "at"
PLANNED = "Planned for"
WHAT, HOW_MUCH = "What", "How much"
TIME, RIGHT, IF_NOT, HOLD, REASON, SOURCE = "Time", "Right when", "If not", "HOLD POINT", "Why", "Source"
HOLD_PASSED = "Passed"
DONE = "Done"
STEP = "Step"
NOTE, REASON_AND_NOTE = "Note", "Why, note"
RESULT_RIGHT, RESULT_NOT, RESULT_NONE = "right", "not right", "not done"
RESULT = "Result"
BATCH_NOTE = ("Start times count from the first batch. The clock of a batch starts when catalyst or hardener goes into "
              "that cup.")
BATCH_HEADINGS = ("Batch", "Mix", "Start after", "In place within", "Stop at")
MIXED_AT, MIX_TEMPERATURE, MASS_MIXED = "Mixed at", "Temperature", "Amount"
TEMPERATURE_UNIT, MASS_UNIT = "°C or °F", "with unit"
EACH_BATCH = "Each batch"
IN_PLACE, STOP_AT, LASTS, WAITED = "In place", "Stop", "Working time over", "Time is up"
START_BATCH, START, STOP, SET_CLOCK = "Mixing starts now", "Start the clock", "Stop the clock", "Set a clock"
MINUTES = "Minutes"
DAY_START = "Mixing or gluing starts at"
SLIDER = "Temperature of the work and of what is mixed"
LASTS_ABOUT = "lasts about"
AT_PLANNED = "as planned"
SAME_FORMULA = ("The same formula as `advisor compute working_time_min`, from the time at the planned temperature: "
                "time = planned time × exp(E/R × (1/T − 1/T planned)), T in kelvin.")
CLOCKS_FOLLOW = "Clocks that you start get shorter with warmth and never longer than planned."
COMMAND = "To check it by hand"
UNTIL_THEN, ON_THE_SHEET = "Taken as", "On the maker's sheet"
ENOUGH = "Enough to spare"
MARGIN_HEADINGS = ("What", "Value", "Limit", "Spare", "Margin")
TAKEN_AS = "Taken as"
TURN_TO = "Whom to turn to"
NOTES = "Anything else: what went otherwise, who helped, batch numbers of the tins"
WHO_AND_WHEN = "Date and name"
SAVE, PRINT, CLEAR = "Save the record", "Print", "Empty the sheet"
PRINT_REASONS = "Print the reasons too"
CLEAR_SURE = "Really empty all boxes, clocks and notes of this job?"
KEPT = "What you tick and type stays on this device, in this browser, for this job only. Nothing is sent anywhere."
NOT_KEPT = ("This browser keeps nothing for a page opened in this way. Print the sheet or save the record before you "
            "close it.")
RECORD_USE = ("If something goes wrong later, `advisor ask --record FILE` reads the saved record back, and what it "
              "knows is not asked again.")
SOUND = "Sound"
NOW = "now"
CLOCKS = "Clocks"
CONTENTS = "On this sheet"
SIGNATURE = "Rules version {version}, mark {mark}."
NO_SCRIPT = "Without script the boxes can be ticked but are not kept, and there are no clocks. Everything else is here."
