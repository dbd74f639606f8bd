"""What a boat's page must know of the sheet's other boats, to take a list over from one of them.

It is one file for all pages of a sheet: names of options and packages, and which boat has what. A
page's script says in words what of a list has no place on its boat, and shows two lists together.
"""

from __future__ import annotations

from quoter.pages.public.data import data_text
from quoter.pages.public.views import ModelView, SheetView
from quoter.wording import _

# What the scripts say of lists that are carried, kept aside, printed or mailed.
CARRIED_PHRASES = {
    "here_opened": _("{names} is no package on this boat; what it holds is listed one by one."),
    "here_extra": _("Standard on the {model}, an extra on this boat: {names}."),
    "some_there": _("{count} of {all} offered or standard there"),
    "kept_aside": _("Kept aside: {model}, {total}."),
    "no_aside": _("The list kept aside can't be read here."),
    "is_standard": _("standard"),
    "in_package": _("in the package {package}"),
    "on_both": _("On both lists: {names}."),
    "all_same": _("Both lists hold the same options."),
    "mail_subject": _("Request for a quote: {model}"),
    "mail_ask": _("Please send me a quote for this boat."),
    "mail_sheet": _("By price sheet {version}."),
    "mail_list": _("This list: {address}"),
    "mail_more": _("and {count} more"),
    "total_told": _("Total: {total}"),
}


def others_script(sheet: SheetView) -> bytes:
    """The file assets/others.js of a price sheet."""
    data = {
        "names": [{"id": id, "name": name} for id, name in _names(sheet).items()],
        "packages": [{"id": id, "holds": list(holds)} for id, holds in _packages(sheet).items()],
        "models": [_model(model) for model in sheet.models],
    }
    written = data_text(data).replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")
    return f"window.otherBoats = {written};\n".encode()


def _model(model: ModelView) -> dict[str, object]:
    options = [option.id for option in model.options]
    return {
        "id": model.id,
        "name": model.name,
        "options": options + [package.id for package in model.packages],
        "standard": [each.id for each in model.standard],
    }


def _names(sheet: SheetView) -> dict[str, str]:
    """What every option and package of any boat is called."""
    names: dict[str, str] = {}
    for model in sheet.models:
        names |= {item.id: item.name for item in model.standard}
        names |= {option.id: option.name for option in model.options}
        names |= {package.id: package.name for package in model.packages}
    return names


def _packages(sheet: SheetView) -> dict[str, tuple[str, ...]]:
    """What each package of any boat holds."""
    return {
        package.id: tuple(option.id for option in package.options)
        for model in sheet.models
        for package in model.packages
    }
