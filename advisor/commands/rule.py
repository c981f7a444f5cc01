"""`advisor rule`: look a rule up, or check the rules folder."""

from __future__ import annotations

import argparse

from advisor.errors import InputError
from advisor.knowledge.check.values import did_you_mean
from advisor.knowledge.load import load_rule_base
from advisor.knowledge.model import Rule, Test
from advisor.knowledge.rulebase import RuleBase


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
        raise InputError(f"there is no rule `{options.id}`", None, did_you_mean(options.id, list(rule_base.rules)))
    print(describe(rule_base.rules[options.id], rule_base))
    return 0


def describe(rule: Rule, rule_base: RuleBase) -> str:
    """A rule in plain lines: what it finds, when, why, and who says so."""
    lines = [f"{rule.rule}  ({rule.where})", f"  finds: {rule.says}"]
    lines += [f"  when: {_test(test)}" for test in rule.when.all]
    lines += [f"  and one of: {_test(test)}" for test in rule.when.any]
    lines += [f"  then: {line.does}" for line in rule.then]
    lines.append(f"  because: {rule.because}")
    lines += [f"  source: {rule_base.sources[source].title}" for source in rule.sources]
    return "\n".join(lines)


def _test(test: Test) -> str:
    return f"{test.fact} {test.operator.replace('_', ' ')} {', '.join(test.values)}"

