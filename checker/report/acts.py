"""What to do, as plain data: beside the words, for programs."""

from __future__ import annotations

from checker.kinds.judging.acts import Acts, Advice
from checker.report.amounts import Data, least_data
from checker.report.words.acts import act_words
from checker.report.words.amounts import value_words
from checker.report.words.remedies import remedy_words
from checker.verdict.inspection import Together


def acts_data(advice: Advice | None) -> list[Data]:
    """All that is to be done: each one act, or a choice of which any one is enough; [] for nothing."""
    if advice is None:
        return []
    if isinstance(advice, Acts) and not advice.any_one:
        below = [one for child in advice.acts for one in acts_data(child)]
        return [{**one, "item": one["item"] or advice.item or None} for one in below]
    return [_data(advice)]


def together_data(together: Together | None) -> Data | None:
    """What makes all clauses on weights pass at once; null where the acts of the clauses say it all."""
    if together is None:
        return None
    return {
        "enough": together.enough,
        "clauses": list(together.clauses),
        "not_shown": list(together.not_shown),
        "acts": [_data(act) for act in together.acts],
        "text": "; ".join(map(act_words, together.acts)),
    }


def _data(advice: Advice) -> Data:
    if isinstance(advice, Acts):
        ways = [acts_data(one) for one in advice.acts]
        return {**NO_ACT, "do": "one_of", "ways": ways, "item": advice.item or None}
    wanted = [value_words(one) for one in advice.wanted]
    return {
        **NO_ACT,
        "do": advice.do.value,
        "what": advice.what or remedy_words(advice.remedy) or None,
        "amount": least_data(advice.amount, advice.most),
        "more": advice.more,
        "from": advice.start or None,
        "to": advice.end or (wanted[0] if len(wanted) == 1 else wanted or None),
        "item": advice.item or None,
        "enough": advice.enough,
        "untried": advice.untried and advice.untried.value,
    }


NO_ACT: Data = {
    "do": "",
    "what": None,
    "amount": None,
    "more": False,
    "from": None,
    "to": None,
    "item": None,
    "enough": None,
    "untried": None,
    "ways": [],
}
