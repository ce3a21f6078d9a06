"""Accounts: the owner's first form, a new cook, a chosen password."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth.forms import AuthenticationForm, PasswordChangeForm, UsernameField
from django.contrib.auth.models import User
from django.contrib.auth.password_validation import validate_password
from django.contrib.auth.validators import UnicodeUsernameValidator
from django.core.exceptions import ValidationError
from django.utils import timezone

from kitchen.forms.site import CurrencyField, ZoneField
from kitchen.operations.sign_ins import Comer, TooSoon, try_password
from kitchen.operations.turns import Busy
from kitchen.words import ENGLISH, sentence
from kitchen.words.waits import wait_words

HELPER = "helper"
_NAME_HELP = "What you sign in with. Letters, digits and @ . + - _ are fine; no spaces."
_PASSWORD_HELP = "Ten characters or more. Three or four plain words make a good one."


def name_field(help_text: str = _NAME_HELP) -> forms.CharField:
    """Return the field for a name to sign in with, cleaned to one spelling (NFKC), as the account keeps it."""
    return UsernameField(
        label="Name",
        max_length=150,
        help_text=help_text,
        validators=[UnicodeUsernameValidator(message="Letters, digits and @ . + - _ only, please: no spaces.")],
        error_messages={"required": "Choose a name to sign in with."},
        widget=forms.TextInput({"autocomplete": "username", "autocapitalize": "none", "spellcheck": "false", "dir": "auto"}),
    )


class PasswordTwiceForm(forms.Form):
    """A new password, typed twice."""

    password = forms.CharField(
        strip=False,
        max_length=256,
        help_text=_PASSWORD_HELP,
        error_messages={"required": "Choose a password."},
        widget=forms.PasswordInput({"autocomplete": "new-password"}),
    )
    again = forms.CharField(
        label="Password once more",
        strip=False,
        max_length=256,
        error_messages={"required": "Type the password a second time."},
        widget=forms.PasswordInput({"autocomplete": "new-password"}),
    )

    def __init__(self, *args: Any, username: str = "", **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.username = username

    def clean(self) -> dict[str, Any]:
        """Compare the two passwords and check the first."""
        data = super().clean() or self.cleaned_data
        password, again = data.get("password"), data.get("again")
        if password and again and password != again:
            self.add_error("again", "The two passwords differ. Type both again.")
        elif password:
            try:
                validate_password(password, User(username=data.get("name") or self.username))
            except ValidationError as error:
                self.add_error("password", error)
        return data


class FirstStartForm(PasswordTwiceForm):
    """The owner's account, the kitchen's name, its money and its clock."""

    name = name_field()
    kitchen_name = forms.CharField(
        label="What this kitchen is called",
        max_length=80,
        initial="Our kitchen",
        error_messages={"required": "Give the kitchen a name."},
    )
    currency = CurrencyField()
    time_zone = ZoneField()
    field_order = ("name", "password", "again", "kitchen_name", "currency", "time_zone")

    def __init__(self, *args: Any, prices_in: str = "", **kwargs: Any) -> None:
        """``prices_in`` is the currency of the recipes that are here already, which no browser proposes away."""
        super().__init__(*args, **kwargs)
        if prices_in:
            money = self.fields["currency"]
            money.initial = prices_in
            money.help_text = f"The recipes that are here, such as the example’s, have their prices in {prices_in}."
            money.widget.attrs["data-stands"] = ""


class _Trying:
    """Tries a password. ``wait_s`` says how long to wait where nothing was compared, with the status of such an answer. [s]"""

    wait_s, wait_status = 0, 429
    comer: Comer

    def try_password(self, name: str, password: str) -> User | None:
        """Return whose they are, None where nobody's; raises ValidationError where nobody may try just now."""
        try:
            return try_password(name=name, password=password, comer=self.comer, at=timezone.now())
        except (TooSoon, Busy) as refused:
            soon, self.wait_s = isinstance(refused, TooSoon), refused.wait_s
            self.wait_status, wait = 429 if soon else 503, wait_words(self.wait_s, ENGLISH)
            raise ValidationError(sentence(ENGLISH, "sign_in_too_soon" if soon else "sign_in_busy", wait=wait)) from None


class NewPasswordForm(_Trying, PasswordChangeForm):
    """The password so far, and a new one, twice. Whoever sits at a cook's open page does not guess the old one for long."""

    def __init__(self, *args: Any, comer: Comer, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["new_password1"].help_text = _PASSWORD_HELP
        self.comer = comer

    def clean_old_password(self) -> str:
        """Compare the password so far."""
        old: str = self.cleaned_data["old_password"]
        if self.try_password(self.user.get_username(), old) is None:
            raise ValidationError(self.error_messages["password_incorrect"], code="password_incorrect")
        return old


class SignInForm(_Trying, AuthenticationForm):
    """Name and password."""

    error_messages = {
        "invalid_login": "This name and password do not belong together. Capitals count in both.",
        "inactive": "This account is closed. Ask whoever runs the kitchen.",
    }

    def __init__(self, *args: Any, comer: Comer, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.comer = comer

    def clean(self) -> dict[str, Any]:
        """Try the password; raises ValidationError where it is wrong, or where nobody may try just now."""
        said = self.cleaned_data
        if said.get("username") and said.get("password"):
            self.user_cache = self.try_password(said["username"], said["password"])
            if self.user_cache is None:
                raise self.get_invalid_login_error()
        return said


class CookForm(forms.Form):
    """Another cook."""

    name = name_field("What they sign in with. No spaces.")
    role = forms.ChoiceField(
        label="What they do here",
        choices=[
            ("cook", "writes recipes and records cooks"),
            (HELPER, "helps: only records cooks, of any recipe"),
        ],
        initial="cook",
        required=False,
    )
