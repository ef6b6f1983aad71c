"""What is different between two plan files, as facts that can be put into words."""

from dataclasses import dataclass
from datetime import datetime

from bot.planfile.value import PlanFile
from core.plan import PlanLine

Times = tuple[datetime, str, str, int]
"""First session, rule, time zone and minutes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """What one plan file says and another doesn't; pairs are the old and the new."""

    old: PlanFile
    new: PlanFile
    renamed: bool
    times: bool
    """Whether classes are at other times, or longer or shorter."""
    prompt_after: bool
    digest_before: bool
    efforts: bool
    """Whether the target or the ceiling of the whole class is another."""
    added: tuple[PlanLine, ...]
    removed: tuple[PlanLine, ...]
    changed: tuple[tuple[PlanLine, PlanLine], ...]
    """Movements whose dose, target, ceiling or ladder is another."""
    reordered: bool

    @property
    def is_nothing(self) -> bool:
        """Whether both say the same."""
        return not (self.about_group or self.about_class)

    @property
    def about_group(self) -> bool:
        """Whether something differs that can't be so for one class alone."""
        return self.renamed or self.times or self.prompt_after or self.digest_before

    @property
    def about_class(self) -> bool:
        """Whether something differs that can be so for one class alone."""
        lines = self.added or self.removed or self.changed
        return self.efforts or bool(lines) or self.reordered


def difference(old: PlanFile, new: PlanFile) -> Difference:
    """What `new` would change."""
    before = {line.movement.name: line for line in old.plan.lines}
    after = {line.movement.name: line for line in new.plan.lines}
    kept = [name for name in before if name in after]
    return Difference(
        old=old,
        new=new,
        renamed=old.name != new.name,
        times=_times(old) != _times(new),
        prompt_after=old.prompt_after != new.prompt_after,
        digest_before=old.digest_before != new.digest_before,
        efforts=(old.plan.target, old.plan.ceiling) != (new.plan.target, new.plan.ceiling),
        added=tuple(line for name, line in after.items() if name not in before),
        removed=tuple(line for name, line in before.items() if name not in after),
        changed=tuple((before[name], after[name]) for name in kept if before[name] != after[name]),
        reordered=kept != [name for name in after if name in before],
    )


def _times(plan_file: PlanFile) -> Times:
    return plan_file.starts, plan_file.rrule, plan_file.timezone, plan_file.minutes
