"""What the operator can set, read from the environment and a `.env` file."""

from pathlib import Path
from typing import Annotated

from pydantic import BeforeValidator, Field, SecretStr, ValidationError
from pydantic_settings import BaseSettings, NoDecode, SettingsConfigDict

from bot.errors import BadInput, Problem
from bot.place import Place, read_place


class Settings(BaseSettings):
    """Each setting is an environment variable with `CLASS_EFFORT_` before its name."""

    model_config = SettingsConfigDict(
        env_prefix="CLASS_EFFORT_", env_file=".env", extra="ignore", frozen=True
    )

    token: SecretStr = Field(min_length=1, description="the bot's token from the chat service")
    api_url: str = Field(
        default="https://api.telegram.org",
        pattern=r"^https?://[^\s/]+(/[^\s]*)?$",
        description="address of the Bot API, http or https",
    )
    database: Annotated[Place, NoDecode, BeforeValidator(read_place)] = Field(
        default=Path("class-effort.sqlite3"),
        description="path of the database file, or a postgresql:// address",
    )
    owner_code: SecretStr | None = Field(
        default=None,
        min_length=12,
        max_length=64,
        description="12 to 64 characters that make whoever sends them the first instructor",
    )


class DatabaseSettings(Settings):
    """The same for commands that only touch the file, and so need no token."""

    token: SecretStr = SecretStr("")


def read_settings(kind: type[Settings] = Settings) -> Settings:
    """The settings in force; BadInput names every variable that is missing or wrong."""
    try:
        return kind()
    except ValidationError as refused:
        # Never the error itself: it would print the token.
        problems = refused.errors(include_input=False, include_url=False, include_context=False)
    raise BadInput(tuple(_problem(kind, each["loc"], each["msg"]) for each in problems))


def _problem(kind: type[Settings], place: tuple[int | str, ...], wrong: str) -> Problem:
    name = str(place[0])
    field = kind.model_fields.get(name)
    return Problem(
        where=f"CLASS_EFFORT_{name.upper()}",
        wrong=wrong[0].lower() + wrong[1:],
        expected=(field.description if field else None) or "another value",
    )
