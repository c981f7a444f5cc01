"""Bench-side advice for people who bond or laminate glass-fibre parts.

The names below are what other programs may use; docs/python.md shows them at work. Everything else may change. They
are loaded when first asked for, so that `import advisor` costs next to nothing.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from advisor.answer_file import AnswerFile
    from advisor.answer_file import read as read_answer_file
    from advisor.consultation.advice import Advice
    from advisor.consultation.compare import Difference, compare
    from advisor.consultation.consult import Advisor, Consultation
    from advisor.consultation.explain import Explainer, Reason
    from advisor.consultation.vary import Varied, vary
    from advisor.errors import AdvisorError, InputError, KnowledgeError
    from advisor.knowledge.load import load_rule_base
    from advisor.knowledge.rulebase import RuleBase

__all__ = [
    "Advice", "Advisor", "AdvisorError", "AnswerFile", "Consultation", "Difference", "Explainer", "InputError",
    "KnowledgeError", "Reason", "RuleBase", "Varied", "compare", "load_rule_base", "read_answer_file", "vary",
]

_PLACES = {
    "Advice": "consultation.advice:Advice", "Advisor": "consultation.consult:Advisor",
    "AdvisorError": "errors:AdvisorError", "AnswerFile": "answer_file:AnswerFile",
    "Consultation": "consultation.consult:Consultation", "Difference": "consultation.compare:Difference",
    "Explainer": "consultation.explain:Explainer", "InputError": "errors:InputError",
    "KnowledgeError": "errors:KnowledgeError", "Reason": "consultation.explain:Reason",
    "RuleBase": "knowledge.rulebase:RuleBase", "Varied": "consultation.vary:Varied",
    "compare": "consultation.compare:compare", "load_rule_base": "knowledge.load:load_rule_base",
    "read_answer_file": "answer_file:read", "vary": "consultation.vary:vary",
}


def __getattr__(name: str) -> Any:
    if name not in _PLACES:
        raise AttributeError(f"module 'advisor' has no attribute {name!r}")
    module, _, attribute = _PLACES[name].partition(":")
    return getattr(import_module(f"advisor.{module}"), attribute)


def __dir__() -> list[str]:
    return __all__
