"""The root of the tables: names of constraints, what a Python type becomes, figures and units."""

import enum
from datetime import datetime
from decimal import Decimal
from typing import Annotated, Any, ClassVar

from sqlalchemy import BigInteger, CheckConstraint, Enum, Integer, MetaData, Table
from sqlalchemy.orm import DeclarativeBase

from kitting.store.types import FigureType, MomentType, MoneyType, WordsType

Figure = Annotated[Decimal, 10]  # decimals, of the unit beside it
Money = Annotated[Decimal, 4]  # decimals, of the currency
Words = tuple[str, ...]

_NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "pk": "pk_%(table_name)s",
}


class Base(DeclarativeBase):
    """Root of the mapped classes.

    A column `x` of `FigureType` with a column `x_unit` beside it holds a quantity; where both may
    be empty, a CHECK sees to it that they are so together.
    """

    metadata = MetaData(naming_convention=_NAMES)
    type_annotation_map: ClassVar[dict[Any, Any]] = {
        Figure: FigureType(),
        Money: MoneyType(),
        Words: WordsType(),
        datetime: MomentType(),
        int: BigInteger().with_variant(Integer(), "sqlite"),
        enum.Enum: Enum(
            enum.Enum,
            native_enum=False,
            create_constraint=True,
            length=20,
            values_callable=lambda members: [member.value for member in members],
        ),
    }

    def __init_subclass__(cls, **options: Any) -> None:
        super().__init_subclass__(**options)
        if isinstance(getattr(cls, "__table__", None), Table):
            _pair_figures(cls.__table__)


def _pair_figures(table: Any) -> None:
    for column in list(table.columns):
        unit = f"{column.name}_unit"
        if isinstance(column.type, FigureType) and column.nullable and unit in table.columns:
            table.append_constraint(
                CheckConstraint(
                    f"({column.name} IS NULL) = ({unit} IS NULL)", name=f"{column.name}_with_unit"
                )
            )
