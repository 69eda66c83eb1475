"""Which value of a family goes to which table."""

from dataclasses import dataclass

from kitting.catalog import model, rules, size_tables
from kitting.catalog.model import PartNumber
from kitting.store.rows import RowMap
from kitting.store.tables import catalogue as tables
from kitting.store.tables import parts


@dataclass(frozen=True, slots=True)
class PartAttribute:
    """One attribute of a part."""

    attribute: str
    value: str


@dataclass(frozen=True, slots=True)
class LinkNeed:
    """One companion that a link asks for."""

    part: PartNumber


VARIANTS = RowMap(model.Variant, tables.VariantRow)
ASSEMBLIES = RowMap(model.Assembly, tables.AssemblyRow)
SIZE_TABLES = RowMap(size_tables.SizeTable, tables.SizeTableRow, apart=("grades",))
GRADES = RowMap(size_tables.Grade, tables.GradeRow, named={"table": "size_table"})
POSITIONS = RowMap(model.Position, tables.PositionRow)
FEATURES = RowMap(model.Feature, tables.FeatureRow)
OBSERVATIONS = RowMap(rules.Observation, tables.ObservationRow)
JUDGEMENTS = RowMap(rules.Judgement, tables.JudgementRow, named={"line": "file_line"})
CONSEQUENCES = RowMap(
    rules.Consequence,
    tables.ConsequenceRow,
    named={"line": "file_line", "when": "if_so", "then": "demands"},
)
PARTS = RowMap(model.Part, parts.CataloguePartRow, named={"number": "part"}, apart=("attributes",))
PART_ATTRIBUTES = RowMap(PartAttribute, parts.PartAttributeRow)
FITS = RowMap(model.Fit, parts.FitRow)
LINKS = RowMap(model.Link, parts.LinkRow, apart=("needs",))
LINK_NEEDS = RowMap(LinkNeed, parts.LinkNeedRow)
SET_ITEMS = RowMap(model.SetItem, parts.SetItemRow)
LABOUR = RowMap(rules.Labour, tables.LabourRow)
