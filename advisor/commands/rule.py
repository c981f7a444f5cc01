"""`advisor rule`: look a rule up, or check the rules folder."""

from __future__ import annotations

import argparse

from advisor.errors import InputError, near, quoted
from advisor.knowledge.load import load_rule_base
from advisor.knowledge.model import Conclusion, Rule, Test
from advisor.knowledge.rulebase import RuleBase
from advisor.units import format_range


def run(options: argparse.Namespace) -> int:
    """Print a rule, the list of rules, or the result of the check."""
    rule_base = load_rule_base(options.rules)
    if options.check:
        from advisor.engine.compile import compile_rules
        compile_rules(rule_base)
        print(f"{len(rule_base.rules)} rules, {len(rule_base.questions)} questions, {len(rule_base.cautions)} "
              f"cautions, {len(rule_base.sources)} sources: no mistakes found")
        return 0
    if options.id is None:
        for rule in rule_base.rules.values():
            print(f"{rule.rule}  {rule.says}")
        return 0
    if options.id not in rule_base.rules:
        guess = near(options.id, rule_base.rules)
        raise InputError(f"there is no rule {quoted(options.id)}",
                         help=f"did you mean `{guess}`?" if guess else "`advisor rule` lists them all")
    print(describe(rule_base.rules[options.id], rule_base))
    return 0


def describe(rule: Rule, rule_base: RuleBase) -> str:
    """A rule in plain lines: what it finds, when, why, and who says so."""
    lines = [f"{rule.rule}  ({rule.where})", f"  finds: {rule.says}"]
    lines += [f"  when: {_test(test, rule_base)}" for test in rule.when.all]
    if rule.when.any:
        lines.append(f"  {'and' if rule.when.all else 'when'} at least one of these:")
        lines += [f"    {_test(test, rule_base)}" for test in rule.when.any]
    lines += [f"  then: {_conclusion(line)}" for line in rule.then]
    lines.append(f"  because: {rule.because}")
    lines += [f"  source: {rule_base.sources[source].title}" for source in rule.sources]
    return "\n".join(lines)


def _test(test: Test, rule_base: RuleBase) -> str:
    values = ", ".join(_value(value, rule_base) for value in test.values)
    return f"{test.fact} {test.operator.replace('_', ' ')} {values}"


def _value(written: str, rule_base: RuleBase) -> str:
    """A value as the rule writes it; beside the name of a limit stands its number."""
    number = rule_base.limit(written)
    if number is None:
        return written
    return f"{written} ({format_range(number.low, number.value, number.high, number.unit, 'metric')})"


def _conclusion(line: Conclusion) -> str:
    """What follows, with everything the rule says of it."""
    fields = line.model_dump(exclude={"does", "line"}, exclude_none=True, exclude_defaults=True)
    told = "; ".join(f"{name.replace('_', ' ')} {_listed(value)}" for name, value in fields.items())
    return f"{line.does.replace('_', ' ')}: {told}"


def _listed(value: object) -> str:
    if isinstance(value, dict):
        return ", ".join(f"{name}: {each}" for name, each in value.items())
    return ", ".join(map(str, value)) if isinstance(value, tuple | list) else str(value)

