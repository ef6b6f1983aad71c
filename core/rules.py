"""Every number an instructor could argue with, each with its unit, reason and source."""

# Marks: [published] read in the source named or its abstract; [memory] from memory, not confirmed;
# [practice] common practice of the trade; [choice] this project's own choice.

MAXIMAL_EFFORT = 9.5
"""Effort, 0 to 10, from which a bout counts as maximal. [choice]: halfway from "almost nothing
left" to "could not have done one more"."""

LARGEST_RAISE = 1.10
"""One class never raises the same variation by more than this factor, or by one step of the plan
where a step is coarser than that. [published] 2 to 10 % (American College of Sports Medicine,
position stand 2009) for loads; [choice] for everything else, and for the single step."""

BREAK_DAYS = 14
"""Days since the last class from which a return counts as a return after a break. [published] two
weeks (Caterisano et al. 2019, Strength and Conditioning Journal)."""

AFTER_BREAK = 0.8
"""Share of the last dose that the first class after a break may reach at most. [choice]"""

EASIER_START = 0.7
"""Share of the planned amount for somebody of whom nothing is known. [choice]"""

MOST_ASKED = 3
"""Movements that one member is asked about after one class, at most. [choice]: ten seconds."""
