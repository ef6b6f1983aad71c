"""An independent description of the Bot API: the typed models of another client library."""

import inspect
import json
from collections.abc import Iterator, Mapping
from typing import Any, get_args

import aiogram.methods
from aiogram.methods import TelegramMethod
from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

MODELS: Mapping[str, type[TelegramMethod[Any]]] = {
    model.__api_method__: model
    for _, model in inspect.getmembers(aiogram.methods, inspect.isclass)
    if issubclass(model, TelegramMethod) and model is not TelegramMethod
}


class InvalidRequest(ValueError):
    """A request that doesn't fit the description."""


def check_request(method: str, params: Mapping[str, object]) -> None:
    """Raise InvalidRequest unless the method exists and every parameter is as described.

    Unknown parameters are refused on every level: the real API ignores them, and so hides mistakes.
    """
    model = MODELS.get(method)
    if model is None:
        raise InvalidRequest(f"no method {method!r}")
    given = {
        name: _parsed(model.model_fields.get(name), value)
        for name, value in params.items()
        if value is not None
    }
    try:
        request = model.model_validate(given)
    except ValidationError as wrong:
        raise InvalidRequest(f"{method}: {wrong}") from wrong
    unknown = sorted(_unknown(request, method))
    if unknown:
        raise InvalidRequest(f"unknown: {', '.join(unknown)}")


def _parsed(described: FieldInfo | None, value: object) -> object:
    """Objects and lists come as JSON text in forms; where text is meant, it stays text."""
    if described is None or not isinstance(value, str):
        return value
    kinds = (described.annotation, *get_args(described.annotation))
    if str in kinds or not value.startswith(("{", "[")):
        return value
    try:
        return json.loads(value)
    except ValueError:
        return value  # the model will say what is wrong with it


def _unknown(value: object, where: str) -> Iterator[str]:
    if isinstance(value, BaseModel):
        yield from (f"{where}.{name}" for name in value.model_extra or ())
        for name in type(value).model_fields:
            yield from _unknown(getattr(value, name), f"{where}.{name}")
    elif isinstance(value, list | tuple):
        for number, one in enumerate(value):
            yield from _unknown(one, f"{where}[{number}]")
