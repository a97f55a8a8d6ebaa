"""Kinds of field that several bodies have: lengths, amounts, words, reasons."""

from __future__ import annotations

from typing import Annotated

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, model_validator

from api.web.lengths import LONGEST, read_measure, too_long_words
from nesting.errors import LengthNotUnderstood, MoneyNotUnderstood
from nesting.money import read_money, read_share
from nesting.units import Length, Unit


def _plain(text: str) -> str:
    if any(ord(sign) < 32 or 0xD800 <= ord(sign) <= 0xDFFF for sign in text):
        raise ValueError("control characters are not accepted")
    return text.strip()


def _amount(text: str) -> str:
    try:
        read_money(text)
    except MoneyNotUnderstood as why:
        raise ValueError(why.expected) from why
    return text


def _share(text: str) -> str:
    try:
        read_share(text)
    except MoneyNotUnderstood as why:
        raise ValueError(why.expected) from why
    return text


def _no_longer(length: int) -> int:
    if length > LONGEST:
        raise ValueError(f"{too_long_words(Unit.M)}, {LONGEST} nm")
    return length


NoLonger = AfterValidator(_no_longer)
"""Refuses in metres, since nobody counts twelve zeros; the number is in the schema, as ``MOST``."""
MOST = {"maximum": LONGEST}
Word = Annotated[str, Field(max_length=200), AfterValidator(_plain)]
Name = Annotated[str, Field(min_length=1, max_length=200), AfterValidator(_plain), Field(min_length=1)]
Reason = Annotated[
    str,
    Field(min_length=1, max_length=500, description="Why, for the ledger."),
    AfterValidator(_plain),
    Field(min_length=1),
]
Amount = Annotated[
    str, Field(max_length=30, description="Decimal point, at most four decimals."), AfterValidator(_amount)
]
Share = Annotated[
    str, Field(max_length=30, description="Per cent with its sign: 7.5 %."), AfterValidator(_share)
]
Nanometres = Annotated[
    int, Field(gt=0, description="Nanometres, exact.", strict=True, json_schema_extra=MOST), NoLonger
]
LengthText = Annotated[
    str, Field(min_length=1, max_length=60, description="With its unit: 1250 mm, 49 1/4 in.")
]


class Body(BaseModel):
    """A body that refuses fields it does not know: a misspelt one must not be lost."""

    model_config = ConfigDict(extra="forbid")


class WithLength(Body):
    """A body with one length, exact or as a text."""

    length_nm: Nanometres | None = None
    length: LengthText | None = None

    @model_validator(mode="after")
    def _understood(self) -> WithLength:
        if self.length_nm is not None and self.length is not None:
            raise ValueError("give length or length_nm, not both")
        self.given_length()
        return self

    def given_length(self) -> Length | None:
        """Give the length; None when there is none."""
        if self.length is None:
            return None if self.length_nm is None else Length(self.length_nm)
        try:
            return read_measure(self.length, None)
        except LengthNotUnderstood as why:
            raise ValueError(why.expected) from why


class WithNeededLength(WithLength):
    """A body that needs a length."""

    @model_validator(mode="after")
    def _needed(self) -> WithNeededLength:
        if self.length_nm is None and self.length is None:
            raise ValueError("length or length_nm is needed")
        return self

    def needed_length(self) -> Length:
        """Give the length."""
        length = self.given_length()
        assert length is not None
        return length


class WithReason(Body):
    """A body that says why."""

    reason: Reason


class MayHaveReason(Body):
    """A body that may say why."""

    reason: Annotated[
        str,
        Field(max_length=500, description="Why; kept with the plan that is given up."),
        AfterValidator(_plain),
    ] = ""
