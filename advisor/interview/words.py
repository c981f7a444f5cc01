"""What the interview itself says; whatever belongs to the trade comes from the rules."""

from __future__ import annotations

from collections.abc import Sequence

BACK, HELP, WHY, UNKNOWN, REVIEW, QUIT = "back", "help", "why", "unknown", "review", "quit"
COMMANDS = {
    "back": BACK, "b": BACK, "help": HELP, "?": HELP, "why": WHY, "review": REVIEW,
    "quit": QUIT, "q": QUIT, "exit": QUIT,
    "unknown": UNKNOWN, "don't know": UNKNOWN, "dont know": UNKNOWN, "do not know": UNKNOWN,
    "i don't know": UNKNOWN, "i dont know": UNKNOWN, "i do not know": UNKNOWN, "not sure": UNKNOWN,
    "i'm not sure": UNKNOWN, "i am not sure": UNKNOWN, "unsure": UNKNOWN, "no idea": UNKNOWN, "not known": UNKNOWN,
    "dunno": UNKNOWN,
}
ANY_TIME = ("back", "help", "why", "unknown", "review", "quit")

DONT_KNOW = "I don't know"
ANSWER_PROMPT = "Answer: "
TITLE_PROMPT = "Name: "
REVIEW_PROMPT = "Number, or Enter: "

WELCOME = ("Answer with a number or in words. At every question these words work too: help (how to find it out), "
           "why (what it decides), unknown (you do not know), back, review (your answers so far), quit.")
ASK_TITLE = "What shall this job be called?"
TITLE_HINT = "A few words, to find it again. Enter leaves it without a name."
EMPTY = "nothing was typed"
EMPTY_HELP = "Give an answer, or type help, unknown or back."
EMPTY_HELP_ESSENTIAL = "Give an answer, or type help, back or quit."
FIRST_QUESTION = "This is the first question; there is nothing before it."
NEEDED_HERE = "this needs an answer; without it nothing safe can be said"
LEAVE_TO_LOOK = "If you must go and look first: quit keeps what you answered."
NEEDED = f"This needs an answer; without it nothing safe can be said. {LEAVE_TO_LOOK}"
STOPPED = "These answers settle it: no more questions. Read the advice before you touch anything."
REVIEW_TITLE = "Your answers:"
NO_ANSWERS = "There are no answers yet."
REVIEW_DONE = "Enter gives the advice. A number changes that answer. back and quit work here too."
REVIEW_OPEN = "Enter goes on with the questions. A number changes that answer. back and quit work here too."
KEPT_ASIDE = "Kept aside, not used"
FITS_NOW = "The answers fit together now."
DISPUTE = "Some answers cannot all be right:"
ASKED_AGAIN = "Asked again"
KEEP_HINT = "Enter keeps it."
TOO_LONG = "that is too long for an answer"
TOO_LONG_HELP = "an answer is a number with its unit, or one of the choices"
ALONE = "`I don't know` cannot stand beside other answers"
ALONE_HELP = "take one or the other out"
ONWARD = "You can go on at once. Everything you answered is kept, and only what is not known yet is asked:"
ONWARD_PROMPT = "Number (Enter: no): "
ASK_ABOUT = ("Anything to ask about this advice? Type a few words of a line, or `step 4`, to hear how it was reached; "
             "`why not` and a method or a material to hear what spoke against it; `what decides`; `what if` and "
             "an answer of yours, to try another. Enter goes on.")
ASK_PROMPT = "Ask (Enter: go on): "
ASK_AGAIN = ("Type a few words of a line as they stand, `step` and a number, `why not` and a name, `what decides`, "
             "`what if` and an answer of yours, or Enter to go on.")
ASK_TOO_LONG = "That is too long; a few words of a line are enough."
ASK_VERDICT = "why"
WHAT_DECIDES = ("what decides", "what matters", "vary")
WHAT_IF = "what if"
NOW_AND_THEN = ("as it is", "then")
ELSE_AS_IT_IS = "All other answers kept, this would differ:"
IMPOSSIBLE = "That cannot be tried:"
NOTHING_CHOSEN = "Nothing was weighed here, so nothing was turned down. Type `why` to hear what settled it."
ASK_WHICH = "Several go by these words. A number picks one; Enter picks none:"
WHICH_PROMPT = "Number (Enter: none): "
TRYING = "One moment: every answer is changed in turn."
WHY_NOT = "why not"
MORE = "more"
NOTHING_DEEPER = "Nothing lies behind this but what was said."
NOT_KEPT_YET = ("The interview goes on, and saving is tried again after every answer. If it still fails at the end, "
                "you can name another file for the answers.")
KEPT_AGAIN = "Your answers are saved again."
CHANGED_ELSEWHERE = ("Another program has changed the file of this job meanwhile. It stays as it is; your answers are "
                     "from now on kept under another name.")
OTHER_FILE = "The answers can go into another file now. Type a name for it, such as my-answers.yaml."
OTHER_FILE_PROMPT = "File (Enter: none): "
FILE_EXISTS = "There is a file of that name already; take another name."
TAKE_UP_PROMPT = "Enter, or quit: "
NOTHING_KEPT = "Nothing was answered, so nothing is kept."
ENDED_BY_PERSON = "Stopped."

SHEET_OFFER = ("A job sheet for the bench can be written now: one page file with boxes, clocks and the mixing table, "
               "for a phone or on paper. Type a name for it, such as sheet.html.")
SHEET_PROMPT = "File (Enter: none): "
NO_TERMINAL = "there is no terminal to ask questions on"
NO_TERMINAL_HELP = ("write the answers into a file (`advisor: 1`, `title: ...`, and below `answers:` a line such as "
                    "`goal: ...` for each; `advisor schema answers` lists them) and run `advisor advise FILE`")


def progress(number: int, more: int, again: bool) -> str:
    """Which question this is and about how many follow it."""
    here = f"Question {number}{' again' if again else ''}"
    if more <= 0:
        return here if again else f"{here}, perhaps the last"
    return f"{here}, about {more} more {'question' if more == 1 else 'questions'} after it"


def how_to_choose(several: bool, takes_unknown: bool) -> str:
    """How to answer a question with choices."""
    numbers = "Several may be true: their numbers, such as 1, 3." if several else "A number, or the first letters."
    return f"{numbers} Or unknown." if takes_unknown else numbers


def how_to_measure(example: str, takes_unknown: bool) -> str:
    """How to answer a question for a quantity."""
    return f"For instance {example}." + (" If you do not know it: unknown." if takes_unknown else "")


def without_unit(typed: str) -> str:
    """A bare number where the answers so far are in US units."""
    return f"{typed} has no unit, and your other answers are in US units"


def earlier(answer: str) -> str:
    """The earlier answer to a question that is asked again."""
    return f"Earlier answer: {answer}. {KEEP_HINT}"


def no_such_number(most: int) -> str:
    """A number that no choice has."""
    return f"the choices are numbered 1 to {most}"


def fits_several(labels: Sequence[str]) -> str:
    """More than one choice begins like that."""
    return f"that fits more than one: {'; '.join(labels)}"


def takes_one(count: int) -> str:
    """A list where one answer is wanted."""
    return f"one answer is wanted, {count} were given"


def assumed(value: str, because: str | None) -> str:
    """What not knowing means where a value is assumed."""
    return f"Taken as {value}{': ' + because if because else '.'}"


def taken_for_unknown(value: str) -> str:
    """An answer nobody knows, at the review."""
    return f"{DONT_KNOW}; taken as {value}"


def every_tried() -> str:
    """What not knowing means where all answers are tried."""
    return "The other answers are tried as well; the advice says whether they would change it."


def rules_wait(count: int) -> str:
    """How many rules read an answer."""
    if count == 0:
        return "No rule waits for it directly; other questions or computations do."
    return f"{count} {'rule waits' if count == 1 else 'rules wait'} for this answer:"


def rules_more(count: int) -> str:
    """The rules not listed."""
    return f"and {count} more; `advisor rule` shows any of them"


def kept(name: str) -> str:
    """Where the answers are and how to go on."""
    return f"Your answers are kept. To go on or to change one: advisor ask --resume {name}"


def not_kept(fault: str) -> str:
    """The answers could not be saved."""
    return f"Your answers cannot be saved: {fault}"


def open_elsewhere(since: str, where: str) -> str:
    """Another interview has the consultation."""
    return (f"This job is open in another interview{since}{where}. Enter begins a copy under a name of its own, with "
            "the answers saved so far; quit leaves.")


def damaged(fault: str, when: str, count: int) -> str:
    """A saved consultation cannot be read, the version before it can."""
    answers = f"{count} {'answer' if count == 1 else 'answers'}"
    return (f"The saved answers cannot be read: {fault} The version before them can: {answers}, saved {when}. Enter "
            "goes on with that and keeps the damaged file under another name; quit leaves everything as it is.")


def damage_kept(place: str) -> str:
    """Where the damaged file is now."""
    return f"The damaged file is now {place}."


def kept_elsewhere(path: str) -> str:
    """The answers are in a file that the person named."""
    return f"Your answers are in {path}. To go on or to change one: advisor ask --from {path}"


def put_aside(labels: Sequence[str]) -> str:
    """Answers that do not matter any more."""
    return f"Not needed now, kept aside: {'; '.join(labels)}"


def counts_again(labels: Sequence[str]) -> str:
    """Answers from before that matter again."""
    return f"Your earlier answer counts again: {'; '.join(labels)}"


def resumed(title: str, count: int) -> str:
    """An earlier consultation goes on."""
    return f"{title}: {count} {'answer' if count == 1 else 'answers'} from before."


def no_longer_fits(fault: str) -> str:
    """An earlier answer the rules do not accept any more."""
    return f"An earlier answer cannot be used and is set aside: {fault}"


def review_again(count: int) -> str:
    """What can be typed at the review."""
    numbers = f"a number from 1 to {count}, " if count else ""
    return f"Type {numbers}Enter, back or quit."


def gone_on(say: str) -> str:
    """The way on that was chosen."""
    return f"Going on: {say[:1].lower()}{say[1:]}."


def deeper(count: int) -> str:
    """How much lies behind an explanation."""
    return f"{count} more {'sentence lies' if count == 1 else 'sentences lie'} behind this: type more."


def no_such_line(typed: str, near: Sequence[str]) -> str:
    """No line of the advice holds what was typed."""
    return f"No line holds `{typed}`.{_near(near)}"


def not_named(typed: str, names: Sequence[str]) -> str:
    """Nothing that was not chosen goes by that name."""
    if not names:
        return NOTHING_CHOSEN
    nothing = f"Nothing that was not chosen goes by `{typed}`. " if typed else ""
    return f"{nothing}These were not chosen: {'; '.join(names)}."


def no_such_step(typed: str, most: int) -> str:
    """No step has that number."""
    return f"There is no step {typed}; " + (f"the steps are numbered 1 to {most}." if most else "no steps are given.")


def no_such_answer(typed: str, labels: Sequence[str]) -> str:
    """No answer goes by those words."""
    about = f"None of your answers is about `{typed}`. " if typed else ""
    return f"{about}Your answers are about: {'; '.join(labels)}."


def more_lines(count: int) -> str:
    """Lines that hold the words and are not listed."""
    return f"{count} more {'holds' if count == 1 else 'hold'} these words; type more of the one you mean."


def _near(near: Sequence[str]) -> str:
    return f" Near it: {'; '.join(near)}." if near else ""


def and_smaller(count: int) -> str:
    """Differences that are not told."""
    return f"{count} smaller {'thing differs' if count == 1 else 'things differ'} too: tools and lesser cautions."


def which_again(most: int) -> str:
    """A number that no line listed has."""
    return f"Type a number from 1 to {most}, or Enter for none."


def onward_again(count: int) -> str:
    """What can be typed when going on is offered."""
    return f"Type {'1' if count == 1 else f'a number from 1 to {count}'}, or Enter to leave it at that."


def sheet_written(name: str) -> str:
    """Where the job sheet is, and what to do with it."""
    return f"The job sheet is in {name}. Open it in a browser; its print button or the browser's own prints it."
