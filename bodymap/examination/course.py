"""The way through a plan: which question is in hand, which were passed over, which came
before. It holds no answers; every move is told the record as it stands."""

from dataclasses import replace

from bodymap.examination.parts import Part
from bodymap.examination.steps import Plan, Step, is_done
from bodymap.findings.record import BedsideRecord


class Course:
    """``step`` is the question in hand, or None when everything is answered or passed
    over. Nothing that is answered is asked again unless one goes back to it."""

    def __init__(self, plan: Plan | None = None) -> None:
        self.plan = plan or Plan.usual()
        self.step: Step | None = None
        self._passed: set[str] = set()
        self._behind: list[str] = []

    @property
    def can_go_back(self) -> bool:
        """Whether a question came before this one."""
        return bool(self._behind)

    def refresh(self, record: BedsideRecord, plan: Plan | None = None) -> None:
        """Stay at the question in hand if it still belongs to the plan; its sides may be
        others now."""
        if plan is not None:
            taken_out = set(self.plan.parts) - set(plan.parts)
            if self.step is not None and self.step.part in taken_out:
                self.step = None
            self.plan = plan
        steps = self._steps(record)
        kept = steps.get(self.step.key) if self.step is not None else None
        self.step = kept or self._next(record, "")

    def go_on(self, record: BedsideRecord) -> None:
        """To the next question that is open."""
        after = self.step.key if self.step is not None else ""
        if after:
            self._behind.append(after)
        self.step = self._left_for_a_point(record) or self._next(record, after)

    def _left_for_a_point(self, record: BedsideRecord) -> Step | None:
        """The ladder that was left to ask temperature at a key point goes on."""
        step = self.step
        if step is None or step.part is not Part.TEMPERATURE or step.site is not None:
            return None
        steps = self.plan.steps_of(step.part, record)
        return next(
            (s for s in steps if s.key not in self._passed and not is_done(s, record)), None
        )

    def pass_over(self, record: BedsideRecord) -> None:
        """Leave the question in hand out for now."""
        if self.step is not None:
            self._passed.add(self.step.key)
            self.go_on(record)

    def go_back(self, record: BedsideRecord) -> None:
        """To the question that was in hand before this one."""
        steps = self._steps(record)
        while self._behind:
            key = self._behind.pop()
            if key in steps:
                self._passed.discard(key)
                self.step = steps[key]
                return

    def go_to(self, part: Part, record: BedsideRecord) -> None:
        """To the first open question of a part, or to its first one; those of it that were
        passed over are open again."""
        steps = self.plan.steps_of(part, record)
        self._passed -= {step.key for step in steps}
        self.step = next((step for step in steps if not is_done(step, record)), steps[0])

    def ask_temperature_at(self, point: str, record: BedsideRecord) -> None:
        """Ask temperature at a key point as well, now."""
        asked = self.plan.temperature_at
        self.plan = replace(self.plan, temperature_at=(*asked, point))
        steps = self.plan.steps_of(Part.TEMPERATURE, record)
        if self.step is not None:
            self._behind.append(self.step.key)
        self.step = next(step for step in steps if step.place == point)

    def _steps(self, record: BedsideRecord) -> dict[str, Step]:
        steps = {step.key: step for step in self.plan.steps(record)}
        if self.step is not None:
            # A part that is not in the plan can be gone to as well.
            mine = self.plan.steps_of(self.step.part, record)
            steps |= {step.key: step for step in mine}
        return steps

    def _next(self, record: BedsideRecord, after: str) -> Step | None:
        return self.plan.next_step(record, frozenset(self._passed), after)
