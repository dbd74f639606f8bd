"""The rules between records, as a plain tuple of small functions that return problems."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from quoter.catalogue.accepted import check_accepted
from quoter.catalogue.checks_drawings import check_drawings
from quoter.catalogue.checks_emissions import check_applied, check_hap_contents
from quoter.catalogue.checks_exports import check_exports
from quoter.catalogue.checks_forms import check_forms, check_positions, check_swatches
from quoter.catalogue.checks_ids import check_references, every_record
from quoter.catalogue.checks_options import (
    check_credits,
    check_models,
    check_option_models,
    check_option_rules,
    check_options_can_be_chosen,
    check_packages,
    check_standard_options_agree,
    offered,
)
from quoter.catalogue.checks_parts import (
    check_goods,
    check_moulding,
    check_operations,
    check_shapes,
    check_zones,
)
from quoter.catalogue.checks_prices import (
    check_exchange,
    check_laminates,
    check_packs,
    check_price_files,
    check_prices,
    check_rate_file,
    check_rises,
    check_volumes,
)
from quoter.catalogue.checks_processes import check_infused, check_limits, check_sprayed
from quoter.catalogue.checks_yard import (
    check_accounts,
    check_approvers,
    check_dealers,
    check_home_currency,
    check_markets,
    check_moulds,
    check_policy,
    check_price_book,
    check_quotes,
    check_stations,
    check_suppliers,
    check_taxes,
    check_wages,
)
from quoter.catalogue.colours import check_hull_colours
from quoter.catalogue.day import check_days
from quoter.catalogue.editions import check_editions, check_versions
from quoter.catalogue.indices import check_surcharges
from quoter.catalogue.languages import check_languages
from quoter.catalogue.records import Records
from quoter.catalogue.translations import check_translations
from quoter.problems import Problem

__all__ = ["CHECKS", "every_record", "offered"]

CHECKS: tuple[Callable[[Records], Iterator[Problem]], ...] = (
    check_references,
    check_home_currency,
    check_policy,
    check_accounts,
    check_stations,
    check_suppliers,
    check_wages,
    check_moulds,
    check_prices,
    check_packs,
    check_exchange,
    check_laminates,
    check_price_files,
    check_rate_file,
    check_exports,
    check_rises,
    check_accepted,
    check_editions,
    check_days,
    check_versions,
    check_markets,
    check_quotes,
    check_approvers,
    check_dealers,
    check_taxes,
    check_surcharges,
    check_shapes,
    check_drawings,
    check_zones,
    check_goods,
    check_moulding,
    check_operations,
    check_sprayed,
    check_infused,
    check_limits,
    check_applied,
    check_hap_contents,
    check_option_rules,
    check_option_models,
    check_options_can_be_chosen,
    check_standard_options_agree,
    check_packages,
    check_credits,
    check_hull_colours,
    check_models,
    check_positions,
    check_forms,
    check_swatches,
    check_volumes,
    check_price_book,
    check_languages,
    check_translations,
)
