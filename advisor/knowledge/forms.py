"""From the short forms a person writes to the regular shape the models validate.

`gap_max: {above: limit/x}` becomes `{fact, operator, values, line}`; `- caution: dust` becomes
`{does: caution, cautions: [dust]}`. Only shapes are changed here, no meaning is judged.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from advisor.errors import near
from advisor.knowledge.yaml_text import Block, Items

OPERATORS = ("is", "is_not", "one_of", "none_of", "below", "at_most", "above", "at_least", "between")


class FormError(Exception):
    """A shape that no form allows; carries the line and what would be right."""

    def __init__(self, line: int, what: str, help: str | None = None) -> None:
        super().__init__(what)
        self.line, self.what, self.help = line, what, help


def _block(line: int, **fields: Any) -> Block:
    block = Block(line)
    for key, value in fields.items():
        block.put(key, value, line)
    block.put("line", line, line)
    return block


def texts(value: Any) -> tuple[Any, ...]:
    """One text or a list of texts, as a tuple."""
    return tuple(value) if isinstance(value, list) else (value,)


def _expect_block(value: Any, line: int, what: str) -> Block:
    if not isinstance(value, Block):
        raise FormError(line, f"{what} must be lines of `name: value`",
                        "indent them below it, or write `{name: value}`")
    return value


def condition(value: Any, line: int) -> Block:
    """The regular shape of a `when` (or of what an invariant demands)."""
    block = _expect_block(value, line, "a condition")
    alls, anys = Items(line), Items(line)
    for key, item in block.items():
        at = block.lines[key]
        if key in ("all", "any"):
            target = alls if key == "all" else anys
            for entry, entry_line in _condition_items(item, at, key):
                if key == "any" and len(entry) > 1:
                    raise FormError(entry_line, "a line of `any` is one test, and here are several",
                                    "two tests that must hold together are two rules, or stand in `all`")
                target.extend(_tests(entry, entry_line))
        else:
            alls.append(_test(key, item, at))
    return _block(line, all=alls, any=anys)


def _condition_items(item: Any, line: int, key: str) -> list[tuple[Block, int]]:
    if isinstance(item, Block):
        return [(item, line)]
    if not isinstance(item, Items):
        raise FormError(line, f"`{key}` must be a list of `- fact: test`", "one fact a line, each with a hyphen")
    return [(_expect_block(entry, at, f"each line of `{key}`"), at)
            for entry, at in zip(item, item.lines, strict=True)]


def _tests(block: Block, line: int) -> list[Block]:
    return [_test(fact, test, block.lines.get(fact, line)) for fact, test in block.items()]


def _test(fact: str, test: Any, line: int) -> Block:
    if isinstance(test, Block):
        if len(test) != 1:
            raise FormError(line, f"`{fact}` has {len(test)} operators on one line",
                            "one fact a line, one operator; use `between` for two ends")
        operator, right = next(iter(test.items()))
        if operator not in OPERATORS:
            guess = near(operator, OPERATORS)
            raise FormError(line, f"unknown operator `{operator}`",
                            f"did you mean `{guess}`?" if guess else f"one of {', '.join(OPERATORS)}")
    else:
        operator, right = ("one_of" if isinstance(test, list) else "is"), test
    values = texts(right)
    if any(not isinstance(value, str) or not value for value in values):
        raise FormError(line, f"the right side of `{fact}` must be a word or a list of words",
                        "write `fact: word` or `fact: {one_of: [word, word]}`")
    return _block(line, fact=fact, operator=operator, values=values)


def _evidence(does: str, value: Any, line: int) -> Block:
    block = _expect_block(value, line, f"`{does}`")
    names = [key for key in block if key != "strength"]
    if len(names) != 1:
        raise FormError(line, f"`{does}` names {len(names)} decisions",
                        f"write `{does}: {{method: name}}`, one decision a line")
    fields: dict[str, Any] = {"does": does, "decision": names[0], "candidates": texts(block[names[0]])}
    if "strength" in block:
        fields["strength"] = block["strength"]
    return _block(line, **fields)


def _check(does: str, value: Any, line: int) -> Block:
    block = _expect_block(value, line, "`check`")
    fields = {key: item for key, item in block.items() if key not in ("at_least", "at_most")}
    bounds = [key for key in block if key in ("at_least", "at_most")]
    if len(bounds) != 1:
        raise FormError(line, "a check needs one bound", "add `at_least: limit/name` or `at_most: limit/name`")
    return _block(line, does=does, bound=bounds[0], against=block[bounds[0]], **fields)


def _go_on(does: str, value: Any, line: int) -> Block:
    block = _expect_block(value, line, "`go_on`")
    answers = _expect_block(block.get("answers"), line, "`answers` of `go_on`")
    return _block(line, does=does, **{**block, "answers": dict(answers)})


def _draw(does: str, value: Any, line: int) -> Block:
    block = _expect_block(value, line, "`draw`")
    measures = {key: item for key, item in block.items() if key not in ("part", "say")}
    return _block(line, does=does, measures=measures, **{key: block[key] for key in ("part", "say") if key in block})


def _fields(does: str, value: Any, line: int) -> Block:
    block = _expect_block(value, line, f"`{does}`")
    return _block(line, does=does, **block)


_CONCLUSIONS: dict[str, Callable[[str, Any, int], Block]] = {
    **dict.fromkeys(("require", "favour", "oppose", "rule_out", "withdraw"), _evidence),
    **dict.fromkeys(("stop", "refer", "specify", "step", "quantity", "table", "condition",
                    "reading", "working_time", "review"), _fields),
    "check": _check,
    "go_on": _go_on,
    "draw": _draw,
    "caution": lambda does, value, line: _block(line, does=does, cautions=texts(value)),
    "send_back": lambda does, value, line: _block(line, does=does, questions=texts(value)),
    "batches": lambda does, value, line: _block(line, does=does, record=value),
    "recall": lambda does, value, line: _block(line, does=does, values=dict(_expect_block(value, line, "`recall`"))),
    "confirm": lambda does, value, line: _block(line, does=does, say=value),
}


def conclusions(value: Any, line: int) -> Items:
    """The regular shape of a `then`."""
    if not isinstance(value, Items):
        raise FormError(line, "`then` must be a list of conclusions", "write each as `- rule_out: {method: bond}`")
    result = Items(line)
    for item, at in zip(value, value.lines, strict=True):
        block = _expect_block(item, at, "each conclusion")
        for does, what in block.items():
            result.extend(_conclusion(does, what, block.lines[does]))
    return result


def _conclusion(does: str, value: Any, line: int) -> list[Block]:
    if does == "conclude":
        block = _expect_block(value, line, "`conclude`")
        return [_block(block.lines[fact], does=does, fact=fact, value=item) for fact, item in block.items()]
    if does not in _CONCLUSIONS:
        guess = near(does, [*_CONCLUSIONS, "conclude"])
        raise FormError(line, f"unknown conclusion `{does}`",
                        f"did you mean `{guess}`?" if guess else
                        f"one of conclude, {', '.join(sorted(_CONCLUSIONS))}")
    return [_CONCLUSIONS[does](does, value, line)]


def number(value: Any, line: int) -> Block:
    """The regular shape of a number: `3 mm` or `{low, likely, high}`."""
    if isinstance(value, Block):
        known = {key: item for key, item in value.items() if key != "value"}
        if "value" in value:
            known["likely"] = value["value"]
        return _block(line, **known)
    return _block(line, likely=value)


def _attributes(value: Any, line: int) -> Block:
    block = _expect_block(value, line, "`attributes`")
    result = Block(line)
    for key, item in block.items():
        at = block.lines[key]
        shaped = number(item, at) if isinstance(item, Block) else texts(item)
        result.put(key, shaped, at)
    return result


def _calculation(entry: Block) -> Block:
    shaped = Block(entry.line)
    for key, value in entry.items():
        line = entry.lines[key]
        if key == "from":
            block = _expect_block(value, line, "`from`")
            shaped.put("inputs", {name: texts(item) for name, item in block.items()}, line)
            shaped.put("listed", tuple(n for n, item in block.items() if isinstance(item, list)), line)
        elif key == "gives":
            gives = dict(value) if isinstance(value, Block) else {str(value): ""}
            shaped.put("gives", gives, line)
        else:
            shaped.put(key, value, line)
    return shaped


def _dont_know(value: Any, line: int) -> Block:
    """The regular shape of a `dont_know`, with the conditions of its `instead`."""
    shaped = Block(line)
    for key, item in _expect_block(value, line, "`dont_know`").items():
        at = value.lines[key]
        shaped.put(key, _instead(item, at) if key == "instead" else item, at)
    return shaped


def _instead(value: Any, line: int) -> Items:
    if not isinstance(value, Items):
        raise FormError(line, "`instead` must be a list",
                        "write each case as `- {when: ..., assume: ..., because: ...}`")
    result = Items(line)
    for item, at in zip(value, value.lines, strict=True):
        block = _expect_block(item, at, "each line of `instead`")
        result.append(_block(at, **{key: condition(part, block.lines[key]) if key == "when" else part
                                    for key, part in block.items()}))
    return result


def _for_each(value: Any, line: int) -> dict[str, tuple[Any, ...]]:
    block = _expect_block(value, line, "`for_each`")
    return {name: texts(item) if isinstance(item, list) else (f"every/{item}",) for name, item in block.items()}


def regular(entry: Block) -> Block:
    """One entry with every short form spelled out.

    Raises:
        FormError: where a shape is not one of the forms.
    """
    form = next(iter(entry))
    if form == "calculation":
        entry = _calculation(entry)
    shaped = Block(entry.line)
    for key, value in entry.items():
        line = entry.lines[key]
        shaped.put(key, _shaped(form, key, value, line), line)
    shaped.put("line", entry.line, entry.line)
    return shaped


def _shaped(form: str, key: str, value: Any, line: int) -> Any:
    if key in ("when", "unasked", "must", "must_not"):
        return condition(value, line)
    if form == "question" and key == "dont_know":
        return _dont_know(value, line)
    if form == "rule" and key == "then":
        return conclusions(value, line)
    if form in ("rule", "invariant") and key == "for_each":
        return _for_each(value, line)
    if form == "limit" and key == "value":
        return number(value, line)
    if (form, key) in (("example", "given"), ("invariant", "within")):
        return {name: texts(item) for name, item in _expect_block(value, line, f"`{key}`").items()}
    if key == "attributes" and form != "kind":
        return _attributes(value, line)
    if key in ("sources", "topics", "fires", "silent", "also"):
        return texts(value)
    return value
