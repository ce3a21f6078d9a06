"""How form fields are drawn: a plain ``input`` without a template, since pages hold many; all else as the framework does it."""

from __future__ import annotations

from typing import Any

from django.forms.renderers import DjangoTemplates
from django.utils.html import conditional_escape
from django.utils.safestring import SafeString

_KINDS = ("checkbox", "date", "datetime", "email", "hidden", "input", "number", "password", "search", "text", "time", "url")
_INPUTS = frozenset(f"django/forms/widgets/{kind}.html" for kind in _KINDS)


class PlainInputs(DjangoTemplates):
    """Draws each ``input`` in one go, letter for letter as the framework's three templates would."""

    def render(self, template_name: str, context: Any, request: Any = None) -> SafeString:
        """Return a widget's HTML."""
        if template_name not in _INPUTS:
            return SafeString(super().render(template_name, context, request))
        widget = context["widget"]
        value = [] if widget["value"] is None else [("value", widget["value"])]
        said = [("type", widget["type"]), ("name", widget["name"]), *value, *widget["attrs"].items()]
        return SafeString(f"<input{''.join(map(_attribute, said))}>")


def _attribute(said: tuple[str, Any]) -> str:
    name, value = said
    if value is False:
        return ""
    return f" {conditional_escape(name)}" if value is True else f' {conditional_escape(name)}="{conditional_escape(value)}"'
