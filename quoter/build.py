"""The whole pipeline: read, check, take off and roll up, price, render in memory, then write."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path

from quoter.catalogue.day import day_words
from quoter.leaks.guard import stop_at
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from quoter.problems import Problem
from quoter.publish.kept import Before, notes, program, task_note
from quoter.publish.manifest import FolderError, notes_of
from quoter.publish.ours import refuse_quotes
from quoter.publish.outputs import Outputs, held
from quoter.tasks import Keep, Made, Task, Work, in_memory
from quoter.workers import Doing, alone


@dataclass(frozen=True, slots=True)
class Report:
    """What a build made: the pricing, its warnings, and the files by folder, or their digests.

    `tasks` is what it notes of each task; `seconds` how much CPU each step took. `left` tells of
    files that an earlier version may have written, and that were left alone.
    """

    pricing: Pricing
    warnings: list[Problem]
    public: dict[str, bytes] = field(default_factory=dict)
    internal: dict[str, bytes] = field(default_factory=dict)
    tasks: list[str] = field(default_factory=list)
    seconds: dict[str, float] = field(default_factory=dict)
    left: tuple[str, ...] = ()

    @property
    def day(self) -> str:
        """What it says of its day."""
        catalogue = self.pricing.catalogue
        return day_words(catalogue.records, catalogue.as_of)


def render(
    folder: Path,
    as_of: date | None,
    *,
    strict: bool,
    say: Callable[[str], None],
    settings: Sequence[str] = (),
    published: bool = True,
    model: str = "",
    do: Doing = alone,
    before: Before | None = None,
    keep: Keep = in_memory,
) -> Report:
    """Everything a build writes; without what is public where nothing is published.

    Args:
        folder: the catalogue's
        as_of: the day asked about
        strict: whether warnings stop it
        say: is told what is being done
        settings: what if something were otherwise, each as KEY=VALUE
        published: whether there is to be a price sheet
        model: the one whose workbook alone is wanted, if one is
        do: who does the tasks
        before: what stands of the build before; a task that would make the same again is spared
        keep: who keeps a file as soon as it is made: this process, unless somebody is named
    Raises:
        CatalogueError: the catalogue has problems.
        LeakError: a public file says what no public view accounts for.
    """
    say("reading and costing the catalogue")
    begun = time.process_time()
    pricing, warnings = price_catalogue(
        folder, as_of, strict=strict, settings=settings, booked=True
    )
    work = Work(folder, pricing, warnings, published=published, model=model, keep=keep)
    report = Report(pricing, warnings)
    by = program()
    keys = {task: f"{by} {work.key(task)}" for task in work.tasks()}
    made = {} if before is None else _standing(work, keys, before)
    report.seconds["reading and costing"] = time.process_time() - begun
    tasks = [task for task in keys if task not in made]
    made |= zip(tasks, do(work, tasks, say), strict=True)
    for task, key in keys.items():
        one = made[task]
        report.public.update(one.public)
        report.internal.update(one.internal)
        report.tasks.append(task_note(str(task), key, one.public, one.internal))
        report.seconds[work.said(task)] = one.seconds
    leaks = [leak for one in made.values() for leak in one.leaks]
    stop_at(sorted(leaks, key=lambda leak: leak.file))
    return report


def _standing(work: Work, keys: Mapping[Task, str], before: Before) -> dict[Task, Made]:
    """The tasks whose files stand already as they would be written."""
    found = {task: Made() for task in keys}
    for name, file in before.public.items():
        if task := found.get(work.owner(True, name)):
            task.public[name] = file
    for name, file in before.internal.items():
        if task := found.get(work.owner(False, name)):
            task.internal[name] = file
    return {
        task: one
        for task, one in found.items()
        if before.says(task_note(str(task), keys[task], one.public, one.internal))
    }


def build(
    folder: Path,
    site: Path | None,
    internal: Path,
    as_of: date | None = None,
    *,
    strict: bool = False,
    settings: Sequence[str] = (),
    wait: bool = False,
    say: Callable[[str], None] = lambda _: None,
    made: str = "",
    model: str = "",
    do: Doing = alone,
    afresh: bool = True,
) -> Report:
    """Build a catalogue into its two folders, which change only when everything succeeded.

    Without a `site`, nothing public is written; with a `model`, nothing but its workbook. With
    `settings`, each as KEY=VALUE, it is a what-if. Another build into one of the folders is waited
    for, or else told. What it is `made` from is noted, so that the next one knows if nothing has
    changed. Who is to `do` the tasks changes no byte. Unless it is to be `afresh`, those are spared
    whose files stand as they would be written.

    Raises:
        CatalogueError: the catalogue has problems.
        LeakError: a public file says what no public view accounts for.
        FolderError: an output folder holds what is not ours to replace, or can't be written.
        Interrupted: somebody pressed Ctrl-C.
    """
    if site is not None and site.resolve() == internal.resolve():
        raise FolderError(f"{site} would be public and private at once; name two separate folders")
    if site is not None:
        refuse_quotes(site)
    published = site is not None
    folders = [internal] if site is None else [site, internal]
    with held(folders, keep=[folder], wait=wait, say=say) as outputs:
        found = render(
            folder,
            as_of,
            strict=strict,
            say=say,
            settings=settings,
            published=published,
            model=model,
            do=do,
            before=None if afresh else _before(outputs, site, internal),
            keep=lambda public, name, content: outputs.keep(
                site if site is not None and public else internal, name, content
            ),
        )
        files: dict[Path, Mapping[str, bytes]] = {internal: found.internal}
        if site is not None:
            files[site] = found.public
        told = [str(problem) for problem in found.warnings]
        beside = found.public if published else None
        said = notes(made, found.day, beside, told, found.tasks) if made else []
        left = outputs.publish(files, {internal: said})
    return replace(found, left=tuple(left))


def _before(outputs: Outputs, site: Path | None, internal: Path) -> Before:
    public = {} if site is None else outputs.standing[site.resolve()]
    private = outputs.standing[internal.resolve()]
    return Before(public, private, notes_of(internal) if private else ())
