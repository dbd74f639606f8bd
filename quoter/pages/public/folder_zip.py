"""A whole price sheet in one file: its folder, as it is used after unpacking without a server.

What leads out of the folder, to the sheet in other languages, to other markets and to the file
itself, is not there any more. Where the yard states the address of its site, such links lead there;
else what is only there to lead out (marked `data-beside` in the templates) is left out, and any
other link is the text that it was.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from functools import cache
from posixpath import basename, dirname, join, normpath, relpath

from quoter.pages.public.views import SheetHead, SheetView
from quoter.workbook.xlsx import zipped

_BESIDE = re.compile(r"<(section|nav|li|p|div)\b[^<>]*\sdata-beside\b[^<>]*>.*?</\1>\n?", re.DOTALL)
_ANCHOR = re.compile(r'<a\b([^<>]*?)\shref="([^"<>]*)"([^<>]*)>(.*?)</a>', re.DOTALL)
_HEAD_LINK = re.compile(r'<link\b[^<>]*?\shref="([^"<>]*)"[^<>]*>\n?')
_ELSEWHERE = re.compile(r"[a-z][a-z0-9+.-]*:|//|#|\Z")  # a whole address, or a place of the page
_OF_LINKS = re.compile(r'\s(?:hreflang|rel|target|download|data-keeps)(?:="[^"]*")?')


def zip_name(head: SheetHead) -> str:
    """What the file is called, and the folder that comes out of it: by market and language."""
    return f"{head.id}-{head.tag}.zip"


def folder_zip(sheet: SheetView, files: Mapping[str, bytes]) -> bytes:
    """The file, the same for the same price sheet: times are fixed, nothing is deflated.

    Args:
        sheet: whose folder it is
        files: path below the folder -> content; all but the file itself
    """
    name, folder = zip_name(sheet.head), sheet.head.folder
    there = {f"{folder}/{path}": content for path, content in files.items() if path != name}
    top = name.removesuffix(".zip")
    return zipped(
        {
            f"{top}/{path.removeprefix(folder)[1:]}": alone(path, content, there, sheet.address)
            for path, content in there.items()
        },
        stored=True,
    )


def alone(path: str, content: bytes, there: Collection[str], address: str) -> bytes:
    """A file without links to what is not there; only pages have any.

    Args:
        path: its own, below the site
        content: as it stands on the site
        there: paths of the files that it can lead to
        address: of the site, with a slash at its end, where the yard states it
    """
    if not path.endswith(".html"):
        return content

    @cache  # a page leads to the same places again and again
    def led(target: str) -> str | None:
        """What a link leads to from now on; None where that is nothing."""
        if _ELSEWHERE.match(target):
            return target
        file, sign, place = target.partition("#")
        below = normpath(join(dirname(path), file))
        if below in there:
            return f"{relpath(below, dirname(path))}{sign}{place}"
        return f"{address}{below}{sign}{place}" if address else None

    def anchor(link: re.Match[str]) -> str:
        before, target, after, inside = link.groups()
        leads = led(target)
        if leads is None:
            return f"<span{_OF_LINKS.sub('', before + after)}>{inside}</span>"
        return link[0].replace(f'href="{target}"', f'href="{leads}"', 1)

    def head_link(link: re.Match[str]) -> str:
        leads = led(link[1])
        return "" if leads is None else link[0].replace(f'"{link[1]}"', f'"{leads}"', 1)

    def beside(block: re.Match[str]) -> str:
        """A block that is only there to lead out, if any of its links leads to another page."""
        leads = {led(link[2]) for link in _ANCHOR.finditer(block[0])}
        return block[0] if leads - {None, basename(path)} else ""

    text = _BESIDE.sub(beside, content.decode("utf-8"))
    return _HEAD_LINK.sub(head_link, _ANCHOR.sub(anchor, text)).encode("utf-8")
