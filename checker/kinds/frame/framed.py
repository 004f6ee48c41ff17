"""A check judged within its frame: under its guards, for each entry, in every condition."""

from __future__ import annotations

from fractions import Fraction
from functools import reduce
from operator import attrgetter

from checker.car.described.vocabulary import Condition
from checker.car.scene import Scene
from checker.car.weights.states import partly_as_weighed
from checker.car.weights.weights import State
from checker.kinds.comparing.comparison import Comparison, together
from checker.kinds.comparing.monotonic import NOT_AT_ALL, Way
from checker.kinds.contract.check import Check, Depends, becomes, follows_condition
from checker.kinds.contract.writing import Writing
from checker.kinds.frame.comparing import compare_frames
from checker.kinds.frame.divisors import turned_divisor
from checker.kinds.frame.entries import Member, members, stated_empty
from checker.kinds.frame.frame import Frame
from checker.kinds.judging.acts import Act, Do, about
from checker.kinds.judging.assessment import (
    FAIL,
    NOT_APPLICABLE,
    NOT_SHOWN,
    PASS,
    TOO_CLOSE,
    Amount,
    Assessment,
    DecisionRule,
    Later,
    LegalFuel,
    not_applicable,
    not_shown,
    softened,
)
from checker.kinds.judging.findings import AsFarAsKnown, Guarded, NoneThere, Of, all_found
from checker.kinds.judging.ranking import all_hold, ranked
from checker.kinds.judging.reasons import NotJudged
from checker.kinds.judging.working import as_statement
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import NUMBER, Unknown, unite
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import dataclass, replace

Corner = tuple[Condition, State]


@dataclass(frozen=True, slots=True)
class Framed(Frame):
    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:
        if not self.conditions:
            return self.in_one_state(scene, rule)
        corners = [
            (condition, state) for condition in self.conditions for state in scene.car.states(condition)
        ]
        least = self._clearly_met(corners, scene, rule)
        found = self._in_corners(corners if least is None else [least], scene, rule)
        turned = turned_divisor(self, scene)
        if turned is not None:
            return not_shown(turned, branches=tuple(self._in_corners(corners, scene, rule)))
        worst = all_hold(found)
        told = attrgetter("outcome", "state", "condition", "margin")
        chosen = next((a for a in found if told(a) == told(worst)), found[0])
        worst = replace(worst, branches=chosen.branches, act=chosen.act)
        if worst.outcome == NOT_SHOWN:
            worst = self._as_far_as_known(worst, found, scene, rule)

        def fuel() -> tuple[LegalFuel, ...]:
            from checker.kinds.frame.legal_fuel import legal_fuel

            return legal_fuel(self, scene, met=all(_is_clear(a) for a in found))

        return replace(worst, fuel_later=Later(fuel))

    def _in_corners(self, corners: list[Corner], scene: Scene, rule: DecisionRule) -> list[Assessment]:
        found: list[Assessment] = []
        for condition, state in corners:
            judged = self.in_one_state(scene.in_state(state), rule)
            if judged.condition == "":
                judged = replace(judged, state=state, condition=condition.name)
            found.append(judged)
        return found

    def _clearly_met(self, corners: list[Corner], scene: Scene, rule: DecisionRule) -> Corner | None:
        """The corner that is met by the least, where each is met clearly: nothing is told of the others then."""
        if self.days is not None or self.many is not None:
            return None
        least: Corner | None = None
        by: Fraction | None = None
        for condition, state in corners:
            there = scene.in_state(state)
            if any(guard.evaluate(there) is not needed for guard, needed in self.guards(once=True)):
                return None
            margin = self.check.clear_margin(there, rule)
            if margin is None or margin <= 0:
                return None
            if by is None or margin < by:
                least, by = (condition, state), margin
        return least

    def _as_far_as_known(
        self, whole: Assessment, found: list[Assessment], scene: Scene, rule: DecisionRule
    ) -> Assessment:
        """A fail in any state that lies within the range is a fail, though the corners cannot be told.

        What is met there is told beside what is not shown.
        """
        within: list[Assessment] = []
        for condition in self.conditions:
            for state in partly_as_weighed(scene.car, condition):
                judged = self.in_one_state(scene.in_state(state), rule)
                within.append(replace(judged, state=state, condition=condition.name))
        failing = [a for a in within if a.outcome == FAIL]
        if failing:
            return replace(all_hold(failing), branches=whole.branches, unknown=whole.unknown)
        for told in ranked([a for a in (*found, *within) if a.outcome in (PASS, TOO_CLOSE)]):
            if told.finding is not None:
                words = "as weighed" if told.state is None else told.state.words
                return replace(whole, finding=AsFarAsKnown(told.finding, words))
        return whole

    def write_outcome(self, write: Writing) -> str:
        from checker.kinds.frame import in_floats

        return in_floats.write_outcome(self, write)

    def in_one_state(self, scene: Scene, rule: DecisionRule) -> Assessment:
        """Guards that name nothing of an entry are asked once, before the list is looked at."""
        outside = None if self.days is None else self.days.outside(scene)
        if outside is not None:
            return not_applicable(outside)
        doubts = self._doubts(scene, once=True)
        if isinstance(doubts, Guarded):
            return not_applicable(doubts)
        return reduce(softened, doubts, self._over_many(scene, rule))

    def _doubts(self, scene: Scene, *, once: bool) -> list[Unknown] | Guarded:
        """Why it is not known whether guards let the check apply; or that one of them does not."""
        doubts: list[Unknown] = []
        for guard, needed in self.guards(once=once):
            answer = guard.evaluate(scene)
            if isinstance(answer, Unknown):
                doubts.append(answer)
            elif answer is not needed:
                return Guarded(as_statement(guard, scene), truth=not needed)
        return doubts

    # --- many ----------------------------------------------------------------------------------------------

    def _over_many(self, scene: Scene, rule: DecisionRule) -> Assessment:
        if self.many is None:
            return self._inside(scene, rule)
        found = members(self.many, scene)
        if isinstance(found, Unknown):
            return not_shown(found)
        kept = [m for m in (self._kept(member) for member in found) if m is not None]
        judged = [self._one(member, rule) for member in kept]
        if any(member.doubt is None for member in kept):
            return self._summed(all_hold(judged), judged)
        filtered = self.many.mode == "within" or self.where is not None
        none = self._none(not filtered and stated_empty(self.many, scene))
        return self._perhaps_none(kept, judged, none) if kept else none

    def _perhaps_none(self, kept: list[Member], judged: list[Assessment], none: Assessment) -> Assessment:
        """It is not known of any entry whether the check is for it: what holds either way holds."""
        whole = self._summed(all_hold(judged), judged)
        if none.outcome in (whole.outcome, NOT_APPLICABLE):
            return whole
        doubts = unite(member.doubt for member in kept if member.doubt is not None)
        return not_shown(unite([doubts, none.unknown]), branches=tuple(judged))

    def _kept(self, member: Member) -> Member | None:
        """The member, with doubt where `where` cannot be told; None where it does not belong here."""
        if self.where is None:
            return member
        answer = self.where.evaluate(member.scene)
        if answer is False:
            return None
        if isinstance(answer, Unknown):
            doubt = answer if member.doubt is None else unite([answer, member.doubt])
            return replace(member, doubt=doubt)
        return member

    def _one(self, member: Member, rule: DecisionRule) -> Assessment:
        """The check for one member, under its own guards."""
        doubts = self._doubts(member.scene, once=False)
        if isinstance(doubts, Guarded):
            return replace(not_applicable(doubts), item=member.label)
        if member.doubt is not None:
            doubts.insert(0, member.doubt)
        judged = reduce(softened, doubts, self._inside(member.scene, rule))
        act = about(judged.act, member.label)
        return replace(judged, item=member.label, standing=member.standing, act=act)

    def _inside(self, scene: Scene, rule: DecisionRule) -> Assessment:
        """The check itself, with the pack's own words for what to do."""
        judged = self.check.assess(scene, rule)
        if self.act and judged.outcome in (FAIL, TOO_CLOSE):
            return replace(judged, act=Act(Do.AS_WRITTEN, self.act))
        return judged

    def _none(self, declared_empty: bool) -> Assessment:
        """Nothing is left to be checked."""
        assert self.many is not None
        says = self.many.if_none or (NOT_APPLICABLE if declared_empty else NOT_SHOWN)
        what = self.many.category or self.many.list_name
        if says == NOT_SHOWN:
            if self.many.mode in ("pairs", "runs"):
                return not_shown(Unknown.because(NotJudged.NO_ROWS_OF, self.many.mode, what))
            why = NotJudged.NOTHING_WITHIN if self.many.mode == "within" else NotJudged.NO_ENTRY
            return not_shown(Unknown.because(why, what))
        told = NoneThere(what, self.many.mode, self.where is not None)
        if says == NOT_APPLICABLE:
            return not_applicable(told)
        if says == FAIL:
            return Assessment(FAIL, finding=told, act=Act(Do.FIT_OR_DECLARE, what))
        margin = Amount(Fraction(0), NUMBER) if self.summed else None
        return Assessment(PASS, margin=margin, met_by_nature=True, finding=told)

    def _summed(self, whole: Assessment, judged: list[Assessment]) -> Assessment:
        """What is counted in one entry is counted over all of them."""
        if not self.summed or whole.margin is None:
            return whole
        total = sum((a.margin_value for a in judged if a.margin_value is not None), Fraction(0))
        told = all_found(*(Of(a.item, a.finding) for a in judged if a.outcome == FAIL and a.finding))
        return replace(whole, margin=Amount(total, NUMBER), finding=told or whole.finding)

    # --- words ---------------------------------------------------------------------------------------------

    def sentence(self) -> str:
        parts: list[str] = []
        if self.many is not None:
            parts.append(f"{self.many.words}{f' where {self.where.text}' if self.where else ''}:")
        parts.append(self.check.sentence())
        parts += [f"(with {name} = {expression.text})" for name, expression in self.names]
        if self.conditions:
            parts.append(f"in {' and '.join(c.words or c.name for c in self.conditions)}")
        if self.days is not None:
            parts.append(self.days.words)
        guards = (("when", self.when), ("unless", self.unless))
        return " ".join(parts + [f"{role} {guard.text}" for role, guard in guards if guard is not None])

    def branches(self) -> tuple[Check, ...]:
        return (self.check,)

    def places(self) -> tuple[Path, ...]:
        return ((),)

    def having(self, branches: tuple[Check, ...]) -> Framed:
        (check,) = branches
        return replace(self, check=check)

    def subject(self) -> tuple[Expression, ...]:
        return self.check.subject()

    def obstacle(self, turned: bool) -> str:
        if self.conditions:
            return ""
        for role, expression in self.expressions():
            if role in ("when", "unless", "where") and expression.follows_condition:
                return f"`{role}: {expression.text}` depends on the condition"
        if turned and self.many is not None and follows_condition(self.check):
            return "a check for many inside a branch that must not be met"
        return self.check.obstacle(turned)

    def moves_with(self, depends: Depends) -> Way | None:
        guards = (self.when, self.unless, self.where, None if self.days is None else self.days.test)
        still = all(guard is None or depends(guard) == Way(NOT_AT_ALL) for guard in guards)
        return self.check.moves_with(depends) if still else None

    def compared_with(self, older: Check) -> Comparison:
        before = older if isinstance(older, Framed) else Framed(older)
        if type(self.check) is not type(before.check):
            return becomes(older, self)
        return together([self.check.compared_with(before.check), *compare_frames(before, self)])


def _is_clear(found: Assessment) -> bool:
    """Met by the exact margin too, whatever rule made it a pass."""
    margin = found.margin_value
    return found.outcome in (PASS, NOT_APPLICABLE) and (margin is None or margin > 0)


def compare_checks(newer: Check, older: Check) -> Comparison:
    """How a check differs from an older one, of whatever kinds; either may have a frame or none."""
    if isinstance(newer, Framed) or type(newer) is not type(older):
        return (newer if isinstance(newer, Framed) else Framed(newer)).compared_with(older)
    return newer.compared_with(older)
