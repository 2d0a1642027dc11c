"""``setdown catalogue``: an index of many classes, and what can be asked of it."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from setdown.cli.catalogue_add import add_folders
from setdown.cli.outcome import guard

ABOUT = """Index many classes, find moments in them, see what they train.

\b
A first look:
  setdown catalogue add recordings class.vtt
  setdown catalogue find -m squat
  setdown catalogue balance
"""
FILE = "catalogue.setdown"
Catalogue = Annotated[Path, typer.Option("-c", "--catalogue", metavar="FILE", help="The catalogue.")]
Lexicon = Annotated[list[str] | None, typer.Option("--lexicon", metavar="FILE", help="Movements of your own.")]
Since = Annotated[str, typer.Option("--from", metavar="DAY", help="First day, YYYY-MM-DD.")]
Until = Annotated[str, typer.Option("--to", metavar="DAY", help="Last day.")]
Form = Annotated[str, typer.Option("--as", metavar="table|json|csv", help="How to write the answer.")]
Replace = Annotated[bool, typer.Option("--replace", help="Write over files that are there already.")]
Several = list[str] | None


def build_catalogue_app() -> Any:
    """The subcommands of ``setdown catalogue``."""
    app = typer.Typer(help=ABOUT, no_args_is_help=True)
    for command in (add, find, balance, pick, export, renew, check):
        app.command()(guard(command))
    return app


def add(
    places: Annotated[list[str], typer.Argument(metavar="FOLDER...", help="Folders, files or addresses.")],
    catalogue: Catalogue = Path(FILE),
    jobs: Annotated[int, typer.Option(min=1, max=64, help="Processes to work with.")] = 1,
    prune: Annotated[bool, typer.Option("--prune", help="Take classes out whose files are gone.")] = False,
    scheduler: Annotated[str, typer.Option(metavar="ADDRESS", help="A Dask cluster to work on: tcp://host:port.")] = "",
    quiet: Annotated[bool, typer.Option("-q", "--quiet", help="No progress bar, only what needs attention.")] = False,
    timing: Annotated[bool, typer.Option("--timing", help="Tell how long it took, and on what.")] = False,
    lexicon: Lexicon = None,
) -> int:
    """Index transcripts and routines in folders, and in the folders in them.

    What has not changed is skipped. A routine that was reviewed or edited wins over extraction from the transcript
    beside it. A bad file does not stop the others. Stopped at any point, the same command goes on from there. Classes
    whose files are gone are listed, and taken out only with --prune. With fsspec, places may be addresses, such as s3://bucket/recordings.

    \b
    Examples:
      setdown catalogue add recordings --jobs 2
      setdown catalogue add recordings class.vtt -c studio.setdown --prune
    """
    return add_folders(places, catalogue, jobs, prune, scheduler, quiet, lexicon or (), timing)


def find(
    movement: Annotated[Several, typer.Option("-m", "--movement", help="A movement, with its variants.")] = None,
    muscle: Annotated[Several, typer.Option(help="A muscle or group that is worked first.")] = None,
    pattern: Annotated[Several, typer.Option(help="squat, hinge, horizontal push, stretch ...")] = None,
    section: Annotated[Several, typer.Option(help="warm_up, main or cool_down.")] = None,
    arrangement: Annotated[Several, typer.Option(help="straight, superset, circuit, interval or flow.")] = None,
    finisher: Annotated[Several, typer.Option(help="pulses, hold, drop or partials.")] = None,
    side: Annotated[Several, typer.Option(help="left, right or each.")] = None,
    load: Annotated[str, typer.Option(metavar="RANGE", help="20lb, 10-15kg, 10-kg, -15kg: as it was said.")] = "",
    reps: Annotated[str, typer.Option(metavar="RANGE", help="10, 8-12, 20-.")] = "",
    kit: Annotated[Several, typer.Option(metavar="KIT", help="Kit that the class uses.")] = None,
    only_kit: Annotated[str, typer.Option(metavar="KIT,KIT", help="Kit that suffices for the class; or none.")] = "",
    minutes: Annotated[str, typer.Option(metavar="RANGE", help="25 (at most), 20-25, 20-.")] = "",
    instructor: Annotated[Several, typer.Option(metavar="NAME", help="Part of the name is enough.")] = None,
    since: Since = "",
    until: Until = "",
    status: Annotated[Several, typer.Option(help="draft, reviewed or published.")] = None,
    said: Annotated[str, typer.Option(metavar="WORDS", help='Words said; "in quotes" as a phrase.')] = "",
    exact: Annotated[bool, typer.Option("--exact", help="The movement alone, without its variants.")] = False,
    family: Annotated[bool, typer.Option("--family", help="The whole family of the movement.")] = False,
    helping: Annotated[bool, typer.Option("--helping", help="Muscles count where they help as well.")] = False,
    limit: Annotated[int, typer.Option(min=0, help="How many classes; 0 for all.")] = 20,
    like: Annotated[str, typer.Option(metavar="CLASS", help="Classes that train the same, the likest first.")] = "",
    repeats: Annotated[bool, typer.Option("--repeats", help="Classes that repeat an earlier one.")] = False,
    form: Form = "table",
    catalogue: Catalogue = Path(FILE),
    lexicon: Lexicon = None,
) -> int:
    """Find classes, and the moments in them, by what is done and what is said. The latest come first.

    A set counts when it meets every condition on sets, in any of its values; a class answers when each value of a
    repeated option is met by one of them. So -m squat -m row finds classes that have both. The exit code is 1 when no
    class answers.

    \b
    Examples:
      setdown catalogue find -m squat
      setdown catalogue find -m "gobble its quat" --section main --load 10-15lb
      setdown catalogue find --only-kit dumbbells,mat --minutes 25 --muscle glutes
      setdown catalogue find --said '"bent over rows"' --as json
      setdown catalogue find --like "Quayside Strength, Short One" --minutes 30
      setdown catalogue find --repeats
    """
    from setdown.cli.catalogue_find import FindOptions, find_and_show

    options = FindOptions(
        movement=movement or [],
        muscle=muscle or [],
        pattern=pattern or [],
        section=section or [],
        arrangement=arrangement or [],
        finisher=finisher or [],
        side=side or [],
        load=load,
        reps=reps,
        kit=kit or [],
        only_kit=only_kit,
        minutes=minutes,
        instructor=instructor or [],
        since=since,
        until=until,
        status=status or [],
        said=said,
        exact=exact,
        family=family,
        helping=helping,
        limit=limit,
    )
    return find_and_show(options, form, catalogue, lexicon or (), like=like, repeats=repeats)


def balance(
    since: Since = "",
    until: Until = "",
    instructor: Annotated[Several, typer.Option(metavar="NAME", help="Part of the name is enough.")] = None,
    weeks: Annotated[int, typer.Option(min=1, metavar="N", help="List what was not worked for N weeks.")] = 4,
    picture: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Draw weeks and muscle groups: NAME.svg or NAME.png.")
    ] = None,
    form: Form = "table",
    replace: Replace = False,
    catalogue: Catalogue = Path(FILE),
    lexicon: Lexicon = None,
) -> int:
    """What the classes train over time: sets for each muscle group and pattern by week, push and pull, left and right.

    Also what has not been worked for some weeks, how often each movement appears, and which classes have no warm-up or
    cool-down. Weeks are those of ISO 8601, from Monday to Sunday.

    \b
    Examples:
      setdown catalogue balance --from 2024-01-01 --instructor oda
      setdown catalogue balance --weeks 6 --picture balance.svg
    """
    from setdown.cli.catalogue_balance import balance_and_show

    return balance_and_show(since, until, instructor or (), weeks, picture, form, replace, catalogue, lexicon or ())


def pick(
    minutes: Annotated[str, typer.Option(metavar="RANGE", help="25 (at most), 20-25, 20-.")] = "",
    kit: Annotated[str, typer.Option(metavar="KIT,KIT", help="Kit that suffices for the class; or none.")] = "",
    muscle: Annotated[Several, typer.Option(help="A muscle or group that the class works.")] = None,
    movement: Annotated[Several, typer.Option("-m", "--movement", help="A movement that it has.")] = None,
    instructor: Annotated[Several, typer.Option(metavar="NAME", help="Part of the name is enough.")] = None,
    status: Annotated[Several, typer.Option(help="draft, reviewed or published.")] = None,
    classes: Annotated[int, typer.Option("-n", "--classes", min=1, max=31, help="How many; 7 for a week.")] = 1,
    day: Annotated[str, typer.Option("--for", metavar="DAY", help="The day; else the one after the last class.")] = "",
    window: Annotated[str, typer.Option(metavar="SPAN", help="What counts as recent: 28d, 6w.")] = "28d",
    avoid_last: Annotated[
        str, typer.Option(metavar="SPAN", help="Leave classes of so many days, and their repeats, out.")
    ] = "7d",
    form: Annotated[str, typer.Option("--as", metavar="table|json", help="How to write the answer.")] = "table",
    catalogue: Catalogue = Path(FILE),
    lexicon: Lexicon = None,
) -> int:
    """Propose the next class to publish, or several, so that what is trained evens out.

    Of the classes that meet the options it picks those that make the muscle groups come out most even, together with
    the classes of the days before. It is arithmetic over sets, not advice on training.

    \b
    Examples:
      setdown catalogue pick --minutes 25 --kit dumbbells,mat --muscle glutes --avoid-last 7d
      setdown catalogue pick -n 2 --for 2024-07-01
    """
    from setdown.cli.catalogue_find import FindOptions
    from setdown.cli.catalogue_pick import pick_and_show

    options = FindOptions(
        movement=movement or [],
        muscle=muscle or [],
        only_kit=kit,
        minutes=minutes,
        instructor=instructor or [],
        status=status or [],
    )
    return pick_and_show(options, classes, day, window, avoid_last, form, catalogue, lexicon or ())


def export(
    output: Annotated[Path, typer.Option("-o", "--output", metavar="FOLDER", help="Where the tables go.")] = Path(),
    form: Annotated[str, typer.Option("--as", metavar="csv|parquet", help="Which kind of tables.")] = "csv",
    html: Annotated[
        Path | None, typer.Option("--html", metavar="FOLDER", help="A site to search and read instead of tables.")
    ] = None,
    draft: Annotated[
        bool, typer.Option("--draft", help="The site has plans of drafts as well, marked as such.")
    ] = False,
    replace: Replace = False,
    catalogue: Catalogue = Path(FILE),
    lexicon: Lexicon = None,
) -> int:
    """Write the catalogue out: tables of classes, sets and movements for a notebook, or a site that needs no server.

    The site opens from the disk: index.html searches the classes, and each class has a page with its plan.

    \b
    Examples:
      setdown catalogue export -o tables
      setdown catalogue export --as parquet -o tables --replace
      setdown catalogue export --html site
    """
    from setdown.cli.catalogue_upkeep import export_catalogue

    return export_catalogue(catalogue, output, form, html, replace, lexicon or (), draft)


def renew(
    replace: Annotated[bool, typer.Option("--replace", help="Put what would change in.")] = False,
    jobs: Annotated[int, typer.Option(min=1, max=64, help="Processes to work with.")] = 1,
    scheduler: Annotated[str, typer.Option(metavar="ADDRESS", help="A Dask cluster to work on: tcp://host:port.")] = "",
    quiet: Annotated[bool, typer.Option("-q", "--quiet", help="No progress bar.")] = False,
    catalogue: Catalogue = Path(FILE),
    lexicon: Lexicon = None,
) -> int:
    """Show, class by class, what the present lexicon and version would change; --replace puts it in.

    Classes that another lexicon or version made are extracted anew. What comes of it is kept aside: nothing that find
    and balance use is replaced without --replace.

    \b
    Examples:
      setdown catalogue renew --jobs 2
      setdown catalogue renew --replace
    """
    from setdown.cli.catalogue_upkeep import renew_classes

    return renew_classes(catalogue, replace, jobs, scheduler, quiet, lexicon or ())


def check(catalogue: Catalogue = Path(FILE)) -> int:
    """Check that the catalogue is sound: the file, its references, its counts and its index of words.

    \b
    Example:
      setdown catalogue check
    """
    from setdown.cli.catalogue_upkeep import check_store

    return check_store(catalogue)
