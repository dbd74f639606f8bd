"""What a shop paper says of mixing: each mix with its catalyst, and the pots it is parted into."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from decimal import Decimal

from quoter.catalogue.materials import Catalyst, Gelcoat, Resin
from quoter.catalogue.operations import SPRAYS
from quoter.catalogue.parts import CorePart
from quoter.catalogue.prices import Catalogue
from quoter.costing.assembly import Assembly, MaterialCost
from quoter.costing.operations import rated_time
from quoter.costing.quantities import NO_MASS, MaterialLine, entry_of
from quoter.costing.rates import CostRates
from quoter.engineering import mixing
from quoter.engineering.laminate import catalyst_mass
from quoter.figures import Figure, plain_number, total
from quoter.figures.readers import Reader
from quoter.pages.amounts import amount, percent_digits
from quoter.pages.paper_views import Dose, MaterialRow, MixRow, Pots

# Classes of material by what is done with them.
MIXED = ("gelcoat", "resin", "foam")
DOSED = ("catalyst",)
SHOT = "resin"  # the stage of what is injected or infused, part by part

Row = Callable[[MaterialCost], MaterialRow]


def for_batch(one: Figure, batch: Figure | None) -> Figure:
    """What a batch takes of something that one unit takes; without a batch, that of one."""
    return one if batch is None else one * batch


def mix_ratio(catalogue: Catalogue, part: str) -> tuple[Decimal, Decimal] | None:
    """Parts by mass of a foam's components A and B, where the part is a core."""
    core = catalogue.records.of("core").get(part)
    if not isinstance(core, CorePart):
        return None
    foam = catalogue.records.of("foam")[core.foam]
    return plain_number(foam.parts_a), plain_number(foam.parts_b)


def mixes_of(
    catalogue: Catalogue,
    rates: CostRates,
    assembly: Assembly,
    materials: Sequence[MaterialCost],
    row: Row,
) -> Iterator[MixRow]:
    """Each mix with its catalyst, which has a line of its own for the same stage and use.

    Args:
        catalogue: with the records of what is mixed
        rates: of the stations where it is used
        assembly: that takes the materials
        materials: all or some of its own
        row: writes one of them down
    """
    doses = {
        (material.line.stage, material.line.use): material
        for material in materials
        if material.material_class in DOSED
    }
    used = _rates_of_use(rates, assembly)
    for material in materials:
        if material.material_class not in MIXED or material.line.element != "material":
            continue
        line = material.line
        record = catalogue.records.materials[line.material]
        dose = doses.get((line.stage, line.use))
        if dose is None or not isinstance(record, Resin | Gelcoat):
            yield MixRow(row(material), None if dose is None else row(dose), None)
            continue
        reader, density = catalogue.reader, _density(catalogue, record)
        yield MixRow(
            what=row(material),
            catalyst=row(dose),
            share=plain_number(record.catalyst_fraction),
            share_digits=percent_digits(record.catalyst_fraction),
            one=_dose(reader, dose.line.issued, density),
            all=_dose(reader, for_batch(dose.line.issued, assembly.recipe.batch), density),
            pots=_pots(catalogue, assembly, line, record, used),
            sprayed=_entered(assembly, line) in _sprayed(assembly),
        )


def _density(catalogue: Catalogue, mixed: Resin | Gelcoat) -> Figure | None:
    catalyst: Catalyst = catalogue.records.of("catalyst")[mixed.catalyst]
    return catalyst.density


def _dose(reader: Reader, dose: Figure, density: Figure | None) -> Dose:
    volume = None if density is None else mixing.dose_volume(dose, density)
    return Dose(amount(reader, dose, "g"), None if volume is None else amount(reader, volume, "mL"))


def _entered(assembly: Assembly, line: MaterialLine) -> int:
    return entry_of(assembly.recipe.operations, line.stage)


def _sprayed(assembly: Assembly) -> set[int]:
    route = assembly.recipe.operations
    return {index for index, operation in enumerate(route) if operation.applied in SPRAYS}


def _rates_of_use(rates: CostRates, assembly: Assembly) -> dict[int, Figure]:
    """How fast each step that has rates uses up all that is mixed for it, by its place."""
    amounts: dict[int, list[Figure]] = {}
    for material in assembly.materials:
        if material.material_class in MIXED:
            amounts.setdefault(_entered(assembly, material.line), []).append(material.line.issued)
    found, recipe = {}, assembly.recipe
    for index, operation in enumerate(recipe.operations):
        time = rated_time(operation, rates.stations[operation.station], recipe.drivers)
        if index in amounts and time is not None and time.value > 0:
            found[index] = mixing.rate_of_use(total(amounts[index], NO_MASS), time)
    return found


def _pots(
    catalogue: Catalogue,
    assembly: Assembly,
    line: MaterialLine,
    record: Resin | Gelcoat,
    used: Mapping[int, Figure],
) -> Pots | None:
    """The mix in pots, where a bucket or the pot life limits them.

    What is injected or infused is mixed shot by shot, all else for the batch.
    """
    per_part = line.stage == SHOT
    whole = line.issued if per_part else for_batch(line.issued, assembly.recipe.batch)
    largest = _largest(catalogue, record, used.get(_entered(assembly, line)))
    if largest is None or largest.value <= 0 or whole.value <= 0:
        return None
    pots = mixing.pots_needed(whole, largest)
    each = mixing.even_pot(whole, pots)
    reader, density = catalogue.reader, _density(catalogue, record)
    return Pots(
        count=plain_number(pots),
        each=amount(reader, each, "kg"),
        dose=_dose(reader, catalyst_mass(each, record.catalyst_fraction), density),
        per_part=per_part,
    )


def _largest(catalogue: Catalogue, record: Resin | Gelcoat, rate: Figure | None) -> Figure | None:
    """The most that is mixed at once; None where nothing limits it."""
    bucket, life = catalogue.yard.policy.bucket, record.pot_life
    density = record.liquid_density if isinstance(record, Resin) else record.density
    by_bucket = None if bucket is None else mixing.bucket_mass(bucket, density)
    by_life = None if life is None or rate is None else mixing.used_in_pot_life(rate, life)
    if by_bucket is None or by_life is None:
        return by_bucket if by_life is None else by_life
    return mixing.largest_pot(by_life, by_bucket)
