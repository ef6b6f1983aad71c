"""A finding, and how the people of the story are found in the database."""

from dataclasses import dataclass

from bot.storage import prompts
from bot.storage.people import Person, person_of_account
from demo_script.story.tale import Tale


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """Something that was to come true, and what shows whether it did."""

    name: str
    holds: bool
    evidence: str


@dataclass(frozen=True, slots=True)
class People:
    """The members as the database knows them, by name."""

    by_name: dict[str, Person]

    def prompt(self, session_id: str, name: str) -> str:
        """The id of the prompt that this member gets about that session."""
        return prompts.prompt_id(session_id, self.by_name[name].id)

    def name(self, person_id: str) -> str:
        """Who that is; LookupError for anybody else."""
        for name, person in self.by_name.items():
            if person.id == person_id:
                return name
        raise LookupError(person_id)


async def look_up(tale: Tale) -> People:
    """Every member of the cast, as stored."""
    found = {}
    async with tale.theatre.house.database.transaction() as tx:
        for actor in tale.cast:
            person = await person_of_account(tx, actor.account.person_id)
            if person is None:
                raise LookupError(f"{actor.name} isn't in the database")
            found[actor.name] = person
    return People(found)
