"""What goes to site, as a workbook, a CSV file or a page for a phone."""

from importlib import import_module
from pathlib import Path

from zonecfg.errors import UnknownName
from zonecfg.figures import Figures
from zonecfg.results.written import Written
from zonecfg.sheets.sheet import sheet_of
from zonecfg.workflow.plan import plan_of
from zonecfg.workflow.write import refuse_standing, write_bytes

SUFFIXES = {
    ".xlsx": "zonecfg.sheets.write_xlsx",
    ".csv": "zonecfg.sheets.write_csv",
    ".html": "zonecfg.sheets.write_html",
}


def worksheet(path: Path, output: Path, *, force: bool = False) -> Written:
    """Write the worksheet of a plan; the suffix of the file says which form.

    Parameters
    ----------
    path
        A site file, or a folder with one as-designed state.
    output
        The file to write: .xlsx, .csv or .html.
    force
        Replace a file that stands there.

    Raises
    ------
    CannotRead, UnreadableSite
        The plan cannot be opened, or has faults of reading.
    UnknownName
        The suffix is none of the three.
    MissingExtra
        The form needs a library that is not installed.
    CannotWrite
        The file stands there already, or cannot be written.
    """
    writer = SUFFIXES.get(output.suffix.lower())
    if writer is None:
        raise UnknownName(f"{output.name}: a worksheet is .xlsx, .csv or .html")
    refuse_standing([output], force=force)
    _, _, site = plan_of(path)
    sheet = sheet_of(Figures(site))
    made: str | bytes = import_module(writer).render(sheet)
    write_bytes(output, made.encode() if isinstance(made, str) else made, force=force)
    return Written(path=output.as_posix(), rows={name: len(rows) for name, rows in sheet.tables.items()})
