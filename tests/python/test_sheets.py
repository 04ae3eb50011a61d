"""The sheets of a plan, read by other programs: icalendar, openpyxl and, where it is installed, LibreOffice."""

import csv
import io
import shutil
import subprocess
from datetime import datetime, timedelta
from pathlib import Path

import icalendar
import openpyxl
import pytest

import poulter

ORDERS = sorted((Path(__file__).parents[1] / "orders").glob("*.toml"))
KINDS = ["host", "class", "key", "shopping", "labels", "cards"]
FORMATS = ["text", "markdown", "html", "csv", "xlsx"]
# Nothing to roast but the mass: a plan whose numbers the core's direct functions give as well.
ORDER = {
    "serve_at": "2026-12-19T18:30[Europe/Lisbon]",
    "guests": {"adults": 8},
    "bird": {"species": "turkey", "mass": "13 lb", "state": "thawed"},
    "methods": {"brine": "none", "roast": "steady"},
}


@pytest.fixture(scope="module")
def plan():
    return poulter.plan(ORDER)


@pytest.mark.parametrize("path", ORDERS, ids=lambda path: path.stem)
def test_every_calendar_is_read(path):
    plan = poulter.plan(path.read_text(encoding="utf-8"))
    for kind in ("host", "class", "labels"):
        calendar = icalendar.Calendar.from_ical(plan.worksheet(kind=kind, format="ics"))
        assert calendar.errors == []
        events = [part for part in calendar.walk("VEVENT")]
        assert all(not event.errors for event in events)
        names = [str(event["UID"]) for event in events]
        assert len(set(names)) == len(names)
        if not plan.feasible:
            continue
        assert all(event.walk("VALARM") for event in events)
        if kind == "labels":
            continue
        checked = {step.id for step in plan.steps if step.record}
        for step in checked:
            assert any(name.endswith(f"-{step}-check@poulter") for name in names), step


@pytest.mark.parametrize("path", ORDERS, ids=lambda path: path.stem)
def test_every_workbook_and_table_is_read(path):
    plan = poulter.plan(path.read_text(encoding="utf-8"))
    for kind in KINDS:
        sheet = plan.worksheet(kind=kind, format="xlsx")
        assert isinstance(sheet, bytes)
        book = openpyxl.load_workbook(io.BytesIO(sheet))
        assert book.sheetnames
        # The day of the dinner, not of the making.
        assert plan.serve_at.startswith(book.properties.created.strftime("%Y-%m-%dT%H:%M"))
        assert plan.worksheet(kind=kind, format="xlsx") == sheet
        rows = list(csv.reader(io.StringIO(plan.worksheet(kind=kind, format="csv"), newline="")))
        assert len({len(row) for row in rows}) == 1


def test_words_that_are_not_there_are_refused(plan):
    for words, field in [
        ({"kind": "poster"}, "kind"),
        ({"format": "pdf"}, "format"),
        ({"kind": "key", "format": "ics"}, "format"),
    ]:
        with pytest.raises(poulter.InputError) as caught:
            plan.worksheet(**words)
        assert caught.value.field == field
        assert "html" in caught.value.expected or "host" in caught.value.expected
    assert isinstance(plan.worksheet(), str)


def workbook(plan, kind):
    return openpyxl.load_workbook(io.BytesIO(plan.worksheet(kind=kind, format="xlsx")))


def recalculated(book, folder):
    """Every cell as LibreOffice reckons it: openpyxl saves formulas without their answers."""
    soffice = shutil.which("soffice")
    if soffice is None:
        pytest.skip("soffice is not installed: nothing reckons the formulas anew")
    path = folder / "sheet.xlsx"
    book.save(path)
    profile = (folder / "profile").as_uri()
    command = [soffice, f"-env:UserInstallation={profile}", "--headless", "--convert-to", "xlsx"]
    command += ["--outdir", str(folder / "out"), str(path)]
    subprocess.run(command, check=True, capture_output=True, timeout=240)
    return openpyxl.load_workbook(folder / "out" / "sheet.xlsx", data_only=True)


def hours(quantity):
    return quantity.to("h").value


def test_what_the_core_wrote_is_what_a_spreadsheet_reckons(plan, tmp_path):
    formulas = 0
    for kind in KINDS:
        sheet = plan.worksheet(kind=kind, format="xlsx")
        written = openpyxl.load_workbook(io.BytesIO(sheet), data_only=True)
        (tmp_path / kind).mkdir()
        anew = recalculated(workbook(plan, kind), tmp_path / kind)
        for page in workbook(plan, kind):
            for row in page.iter_rows():
                for cell in row:
                    if cell.data_type != "f":
                        continue
                    formulas += 1
                    core = written[page.title][cell.coordinate].value
                    found = anew[page.title][cell.coordinate].value
                    where = (kind, page.title, cell.coordinate, core, found)
                    if isinstance(core, datetime):
                        assert abs(core - found) < timedelta(seconds=2), where
                    elif isinstance(core, (int, float)):
                        assert found == pytest.approx(core, rel=1e-9), where
                    else:
                        assert found == core, where
    assert formulas > 50


def cells(page):
    return {str(row[0].value): row[1] for row in page.iter_rows(min_row=1) if row[0].value}


@pytest.mark.parametrize("pounds", [8, 11.9, 12, 13, 14, 17, 18, 20, 24])
def test_the_roast_follows_the_thawed_mass(plan, tmp_path, pounds):
    book = workbook(plan, "class")
    names = cells(book["Work out"])
    mass = next(cell for name, cell in names.items() if name.startswith("Mass of the thawed"))
    assert mass.value is None
    mass.value = pounds
    names = cells(recalculated(book, tmp_path)["Work out"])
    time = poulter.roast_time(f"{pounds} lb").time
    assert names["Roast, quick case (h)"].value == pytest.approx(hours(time.low))
    assert names["Roast, slow case (h)"].value == pytest.approx(hours(time.high))
    after = timedelta(minutes=names["Rest and carving (min)"].value)
    expected = datetime(2026, 12, 19, 18, 30) - timedelta(hours=hours(time.high)) - after
    found = names["Into the oven at the latest"].value
    assert abs(found - expected) < timedelta(seconds=2)
    each = next(cell for name, cell in names.items() if name.startswith("Raw mass for each"))
    assert each.value == pytest.approx(pounds / 8)


def test_a_mass_outside_the_table_has_no_time(plan, tmp_path):
    for pounds in (7.9, 24.1):
        book = workbook(plan, "class")
        names = cells(book["Work out"])
        next(cell for name, cell in names.items() if name.startswith("Mass of")).value = pounds
        (tmp_path / str(pounds)).mkdir()
        names = cells(recalculated(book, tmp_path / str(pounds))["Work out"])
        assert names["Roast, slow case (h)"].value == "outside the table"
        assert names["Into the oven at the latest"].value == "Cannot tell"


@pytest.mark.parametrize("units", ["us-customary", "metric"])
def test_a_reading_is_judged_as_the_core_judges_it(tmp_path, units):
    plan = poulter.plan(ORDER | {"units": units})
    sign, unit = ("°F", "degF") if units == "us-customary" else ("°C", "degC")
    book = workbook(plan, "class")
    page = book["Record"]
    places = [row for row in page.iter_rows(min_row=2) if "part of the" in str(row[2].value)]
    assert len(places) == 3
    # 165 °F is 73.8888… °C.
    readings = [164.999, 165, 165.001] if unit == "degF" else [73.888, 73.889, 73.9]
    for row, reading in zip(places, readings, strict=True):
        row[4].value = reading
    anew = recalculated(book, tmp_path)["Record"]
    assert anew["E1"].value == f"Reading ({sign})"
    verdicts = [anew.cell(row[0].row, 6).value for row in places]
    for reading, verdict in zip(readings, verdicts, strict=True):
        value = f"{reading} {sign}"
        core = poulter.check_cooking({"breast": value, "thigh": value, "wing": value})
        assert verdict.lower() == core.verdict, value
    assert verdicts[:2] == ["Fails", "Meets"]
    blank = [row for row in anew.iter_rows(min_row=2) if row[4].value is None]
    assert all(row[5].value in ("Cannot tell", None) for row in blank)


def test_gravy_follows_the_guests_and_stock_the_bones(plan, tmp_path):
    book = workbook(plan, "cards")
    names = cells(book["Cards"])
    names["Guests for gravy"].value = 20
    bones = next(cell for name, cell in names.items() if name.startswith("Bones"))
    bones.value = 8
    names = cells(recalculated(book, tmp_path)["Cards"])
    gravy, stock = poulter.gravy(guests=20), poulter.stock(bones="8 lb")
    expected = {
        "Gravy (": gravy.liquid.to("cup"),
        "Flour (": gravy.thickener.to("oz"),
        "Fat (": gravy.fat.to("oz"),
        "Water (": stock.water.to("cup"),
        "Vegetables (": stock.vegetables.to("oz"),
        "Stock (": stock.stock.to("cup"),
    }
    for start, quantity in expected.items():
        cell = next(cell for name, cell in names.items() if name.startswith(start))
        assert cell.value == pytest.approx(quantity.value, rel=1e-3), start


def test_labels_follow_the_day_they_are_made(plan, tmp_path):
    book = workbook(plan, "labels")
    page = book["Labels"]
    page["B2"].value = datetime(2026, 12, 20, 9)
    days = (page["C2"].value, page["D2"].value)
    # FoodSafety.gov, Cold Food Storage Chart: cooked poultry 3 to 4 days in the refrigerator.
    assert days == (3, 4)
    anew = recalculated(book, tmp_path)["Labels"]
    assert abs(anew["E2"].value - datetime(2026, 12, 23, 9)) < timedelta(seconds=2)
    assert abs(anew["F2"].value - datetime(2026, 12, 24, 9)) < timedelta(seconds=2)


def test_every_format_of_every_kind(plan):
    for kind in KINDS:
        for form in FORMATS:
            sheet = plan.worksheet(kind=kind, format=form)
            assert isinstance(sheet, bytes if form == "xlsx" else str)
            assert len(sheet) > 50
