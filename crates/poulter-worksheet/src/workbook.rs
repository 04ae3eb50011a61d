//! A sheet as a spreadsheet: cells to fill in are framed and yellow, and what follows from them is a formula.
//!
//! Every formula carries its answer for the values that stand there now, so a program that does not reckon shows it too.

use poulter::plan::{Amount, Moment};
use poulter::units::TemperatureUnit;
use poulter::{Error, ErrorKind};
use rust_xlsxwriter::{
    DocProperties, ExcelDateTime, Format, FormatAlign, FormatBorder, Formula, Workbook, Worksheet,
    XlsxError,
};

use crate::Kind;
use crate::cards;
use crate::class::{self, checks};
use crate::document::Table;
use crate::kinds;
use crate::labels;
use crate::questions;
use crate::reckoning::{
    after_oven, large, large_unit, roast_table, small, small_unit, verdict, volume, volume_unit,
};
use crate::sheet::{Job, Sheet};
use crate::wording::{clean, shown};
use crate::words::{fill, say};

pub(crate) fn write(job: &Job<'_>, sheet: &Sheet, kind: Kind) -> Result<Vec<u8>, Error> {
    build(job, sheet, kind).map_err(|error| Error::new(ErrorKind::Internal, "", error.to_string()))
}

fn build(job: &Job<'_>, sheet: &Sheet, kind: Kind) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    // The day of the dinner stands in for a clock: the same plan gives the same bytes.
    let day = date(&sheet.serve_at)?;
    book.set_properties(
        &DocProperties::new()
            .set_title(&sheet.title)
            .set_creation_datetime(&day),
    );
    let styles = Styles::new();
    let mut parts = Parts {
        job,
        sheet,
        book: &mut book,
        styles,
    };
    parts.front(kind)?;
    match kind {
        Kind::Host => {
            parts.table("sheet-plan", &kinds::table(job, sheet, kind))?;
            parts.record(1)?;
            parts.reckon(true)?;
            parts.shopping()?;
        }
        Kind::Class => {
            parts.table("sheet-plan", &kinds::table(job, sheet, kind))?;
            parts.record(job.stations().0)?;
            parts.reckon(false)?;
            parts.mise()?;
            let mut questions = questions::table(job, sheet);
            for row in &mut questions.rows {
                row.truncate(2);
                row.push(String::new());
            }
            questions.columns.truncate(3);
            parts.table("sheet-questions", &questions)?;
        }
        Kind::Key => {
            parts.table("sheet-questions", &questions::table(job, sheet))?;
            parts.record(1)?;
            parts.reckon(true)?;
        }
        Kind::Shopping => parts.shopping()?,
        Kind::Labels => parts.labels()?,
        Kind::Cards => parts.cards()?,
    }
    book.save_to_buffer()
}

fn date(moment: &Moment) -> Result<ExcelDateTime, XlsxError> {
    let local = cards::local(moment);
    let part = |value: i8| u8::try_from(value).unwrap_or(0);
    let year = u16::try_from(local.year()).unwrap_or(1900);
    let (hour, minute) = (
        u16::try_from(local.hour()).unwrap_or(0),
        part(local.minute()),
    );
    ExcelDateTime::from_ymd(year, part(local.month()), part(local.day()))?.and_hms(hour, minute, 0)
}

struct Styles {
    head: Format,
    text: Format,
    input: Format,
    number: Format,
    when: Format,
    input_when: Format,
    title: Format,
}

impl Styles {
    fn new() -> Self {
        let cell = Format::new()
            .set_text_wrap()
            .set_align(FormatAlign::Top)
            .set_border(FormatBorder::Thin);
        let input = cell
            .clone()
            .set_background_color(0x00FF_F3B0)
            .set_border(FormatBorder::Medium);
        let when = "ddd yyyy-mm-dd hh:mm";
        Self {
            head: cell.clone().set_bold().set_background_color(0x00E3_EAEF),
            number: cell.clone().set_num_format("0.00"),
            when: cell.clone().set_num_format(when),
            input_when: input.clone().set_num_format(when),
            input,
            text: cell,
            title: Format::new().set_bold().set_font_size(16),
        }
    }
}

/// The sheets of the workbook while they are written.
struct Parts<'p, 'j> {
    job: &'p Job<'j>,
    sheet: &'p Sheet,
    book: &'p mut Workbook,
    styles: Styles,
}

impl Parts<'_, '_> {
    fn page(&mut self, name: &str, widths: &[f64]) -> Result<&mut Worksheet, XlsxError> {
        let page = self.book.add_worksheet();
        page.set_name(name)?
            .set_landscape()
            .set_print_fit_to_pages(1, 0);
        for (column, width) in (0_u16..).zip(widths) {
            page.set_column_width(column, *width)?;
        }
        Ok(page)
    }

    fn heads(&mut self, name: &str, heads: &[&str], widths: &[f64]) -> Result<(), XlsxError> {
        let head = self.styles.head.clone();
        let page = self.page(name, widths)?;
        page.set_freeze_panes(1, 0)?.set_repeat_rows(0, 0)?;
        for (column, text) in (0_u16..).zip(heads) {
            page.write_string_with_format(0, column, *text, &head)?;
        }
        Ok(())
    }

    /// The first sheet: what the workbook is, and whether the dinner can be had.
    fn front(&mut self, kind: Kind) -> Result<(), XlsxError> {
        let (title, text) = (self.styles.title.clone(), self.styles.text.clone());
        let sheet = self.sheet;
        let page = self.page(kind.heading(), &[24.0, 70.0])?;
        page.write_string_with_format(0, 0, &sheet.title, &title)?;
        let mut row = 2;
        let mut line = |name: &str, value: &str| -> Result<(), XlsxError> {
            page.write_string_with_format(row, 0, name, &text)?;
            page.write_string_with_format(row, 1, value, &text)?;
            row += 1;
            Ok(())
        };
        for (name, value) in &sheet.facts {
            line(name, value)?;
        }
        if !sheet.feasible {
            line(say("not-possible"), say("not-possible-why"))?;
            for change in &sheet.changes {
                line(say("changes"), change)?;
            }
            for way in &sheet.fell_out {
                line(&way.shown(), &way.reason)?;
            }
        }
        for lost in &sheet.abandoned {
            line(say("abandoned"), &lost.text)?;
        }
        for caution in &sheet.cautions {
            line(say("caution"), caution)?;
        }
        line("", say("fill-in"))
    }

    fn table(&mut self, key: &'static str, table: &Table) -> Result<(), XlsxError> {
        let widths: Vec<f64> = (0..table.columns.len())
            .map(|column| {
                let cells = table.rows.iter().filter_map(|row| row.get(column));
                let longest = cells.map(|cell| cell.chars().count()).max().unwrap_or(0);
                let head = table.columns[column].chars().count() + 3;
                longest.clamp(head.min(48), 48) as f64
            })
            .collect();
        self.heads(say(key), &table.columns, &widths)?;
        let (text, input) = (self.styles.text.clone(), self.styles.input.clone());
        let page = self.book.worksheet_from_name(say(key))?;
        for (at, row) in (1_u32..).zip(&table.rows) {
            for (column, cell) in (0_u16..).zip(row) {
                let style = if cell.is_empty() { &input } else { &text };
                page.write_string_with_format(at, column, cell, style)?;
            }
        }
        Ok(())
    }

    /// The temperature record: a reading beside its limit, and the verdict that follows.
    fn record(&mut self, stations: u32) -> Result<(), XlsxError> {
        let sign = match crate::degrees::unit(self.sheet.units) {
            TemperatureUnit::Celsius => "°C",
            _ => "°F",
        };
        let reading = format!("{} ({sign})", say("reading"));
        let heads = [
            say("number"),
            say("station-head"),
            say("check"),
            say("limit"),
            &reading,
            say("verdict"),
            say("when-it-fails"),
            say("what-was-done"),
            say("time"),
            say("initials"),
        ];
        let widths = [6.0, 9.0, 34.0, 30.0, 14.0, 14.0, 44.0, 30.0, 12.0, 12.0];
        self.heads(say("sheet-record"), &heads, &widths)?;
        let (sheet, text, input) = (self.sheet, &self.styles.text, &self.styles.input);
        let page = self.book.worksheet_from_name(say("sheet-record"))?;
        let mut row = 1;
        for (entry, blank) in checks(sheet) {
            for station in 1..=stations {
                page.write_number_with_format(row, 0, entry.number as f64, text)?;
                page.write_number_with_format(row, 1, station, text)?;
                page.write_string_with_format(row, 2, &blank.what, text)?;
                page.write_string_with_format(row, 3, &blank.limit, text)?;
                page.write_blank(row, 4, input)?;
                match &blank.bound {
                    Some(bound) => {
                        let words = [say("meets"), say("fails"), say("cannot-tell")];
                        let cell = format!("E{}", row + 1);
                        let formula = Formula::new(verdict(&cell, bound, sheet.units, words))
                            .set_result(say("cannot-tell"));
                        page.write_formula_with_format(row, 5, formula, text)?;
                    }
                    None => {
                        page.write_blank(row, 5, input)?;
                    }
                }
                page.write_string_with_format(row, 6, &blank.otherwise, text)?;
                for column in 7..=9 {
                    page.write_blank(row, column, input)?;
                }
                row += 1;
            }
        }
        Ok(())
    }

    /// What follows from the mass of the thawed bird and the number of guests.
    fn reckon(&mut self, filled: bool) -> Result<(), XlsxError> {
        let (job, units) = (self.job, self.sheet.units);
        let plan = &job.plan.answer;
        let table = roast_table(job);
        let Styles {
            head,
            text,
            input,
            number,
            when,
            ..
        } = &self.styles;
        let (head, text, input) = (head.clone(), text.clone(), input.clone());
        let (number, when) = (number.clone(), when.clone());
        let mass = large(plan.bird.mass, units);
        let unit = large_unit(units);
        let with_unit = |key| fill(key, &[("unit", &unit)]);
        let page = self.page(say("sheet-calculate"), &[40.0, 24.0, 14.0, 14.0])?;
        page.write_string(0, 0, say("fill-in"))?;
        let names = [
            with_unit("thawed-mass"),
            say("how-many").to_owned(),
            say("guest-count").to_owned(),
            with_unit("mass-each"),
        ];
        for (row, name) in (1_u32..).zip(&names) {
            page.write_string_with_format(row, 0, name, &text)?;
        }
        if filled {
            page.write_number_with_format(1, 1, mass, &input)?;
        } else {
            page.write_blank(1, 1, &input)?;
        }
        page.write_number_with_format(2, 1, job.birds(), &input)?;
        page.write_number_with_format(3, 1, job.guests(), &input)?;
        let cannot = say("cannot-tell");
        let each = mass * f64::from(job.birds()) / f64::from(job.guests().max(1));
        let each_text = if filled && job.guests() > 0 {
            each.to_string()
        } else {
            cannot.to_owned()
        };
        let formula = format!("=IF(AND(ISNUMBER(B2),B4>0),B2*B3/B4,\"{cannot}\")");
        page.write_formula_with_format(4, 1, Formula::new(formula).set_result(each_text), &number)?;
        let Some((after, latest)) = after_oven(job).filter(|_| !table.is_empty()) else {
            return Ok(());
        };
        let first = 13_u32;
        let last = first + u32::try_from(table.len()).unwrap_or(0) - 1;
        let heads = [
            with_unit("from-mass"),
            with_unit("to-mass"),
            say("table-low").to_owned(),
            say("table-high").to_owned(),
        ];
        for (column, name) in (0_u16..).zip(&heads) {
            page.write_string_with_format(first - 2, column, name, &head)?;
        }
        for (row, line) in (first - 1..).zip(&table) {
            page.write_number_with_format(row, 0, large(line.from, units), &number)?;
            page.write_number_with_format(row, 1, large(line.to, units), &number)?;
            page.write_number_with_format(row, 2, line.low_h, &number)?;
            page.write_number_with_format(row, 3, line.high_h, &number)?;
        }
        // The row is the last whose lightest bird is no heavier than this one, as the core picks it.
        let row = format!("MATCH(B2,A{first}:A{last},1)");
        let inside = format!("IFERROR(B2<=INDEX(B{first}:B{last},{row}),FALSE)");
        let here = table
            .iter()
            .rev()
            .find(|line| filled && line.from <= plan.bird.mass && plan.bird.mass <= line.to);
        let none = if filled { say("out-of-table") } else { cannot };
        for (at, column, key, value) in [
            (5_u32, 'C', "roast-low", here.map(|line| line.low_h)),
            (6, 'D', "roast-high", here.map(|line| line.high_h)),
        ] {
            let found = format!("INDEX({column}{first}:{column}{last},{row})");
            let formula = format!(
                "=IF(ISNUMBER(B2),IF({inside},{found},\"{}\"),\"{cannot}\")",
                say("out-of-table")
            );
            let result = value.map_or_else(|| none.to_owned(), |value| value.to_string());
            page.write_string_with_format(at, 0, say(key), &text)?;
            let formula = Formula::new(formula).set_result(result);
            page.write_formula_with_format(at, 1, formula, &number)?;
        }
        page.write_string_with_format(7, 0, say("serve-at-cell"), &text)?;
        page.write_datetime_with_format(7, 1, date(&plan.serve_at)?, &when)?;
        page.write_string_with_format(8, 0, say("after-oven"), &text)?;
        page.write_number_with_format(8, 1, after, &text)?;
        page.write_string_with_format(9, 0, say("in-oven-at"), &text)?;
        let formula = format!("=IF(ISNUMBER(B7),B8-B7/24-B9/1440,\"{cannot}\")");
        let result = if here.is_some() && here.map(|line| line.high_h) == Some(slow_h(job)) {
            date(&latest)?.to_excel().to_string()
        } else if let Some(line) = here {
            let end = date(&plan.serve_at)?.to_excel();
            (end - line.high_h / 24.0 - after / 1440.0).to_string()
        } else {
            cannot.to_owned()
        };
        page.write_formula_with_format(9, 1, Formula::new(formula).set_result(result), &when)?;
        Ok(())
    }

    /// What to buy, what is at hand already, and the price.
    fn shopping(&mut self) -> Result<(), XlsxError> {
        let keys = ["item", "amount", "unit", "have", "to-buy", "price", "note"];
        let heads = keys.map(say);
        let widths = [36.0, 12.0, 8.0, 12.0, 12.0, 12.0, 50.0];
        self.heads(say("sheet-shopping"), &heads, &widths)?;
        let units = self.sheet.units;
        let lines = &self.job.plan.answer.shopping;
        let Styles {
            text,
            input,
            number,
            ..
        } = &self.styles;
        let page = self.book.worksheet_from_name(say("sheet-shopping"))?;
        let mut row = 1;
        for line in lines {
            page.write_string_with_format(row, 0, clean(&line.item), text)?;
            let (amount, unit) = match &line.amount {
                Some(Amount::Mass(mass)) => (Some(small(*mass, units)), small_unit(units)),
                Some(Amount::Volume(it)) => (Some(volume(*it, units)), volume_unit(units)),
                Some(Amount::Count { count }) => (Some(f64::from(*count)), ""),
                None => (None, ""),
            };
            page.write_string_with_format(row, 2, unit, text)?;
            if let Some(amount) = amount {
                let at = row + 1;
                let amount = (amount * 1000.0).round() / 1000.0;
                page.write_number_with_format(row, 1, amount, number)?;
                page.write_blank(row, 3, input)?;
                let left = Formula::new(format!("=MAX(0,B{at}-D{at})"));
                let left = left.set_result(amount.to_string());
                page.write_formula_with_format(row, 4, left, number)?;
            }
            page.write_blank(row, 5, input)?;
            page.write_string_with_format(row, 6, clean(&line.note), text)?;
            row += 1;
        }
        if row > 1 {
            page.write_string_with_format(row, 4, say("total"), text)?;
            let total = Formula::new(format!("=SUM(F2:F{row})")).set_result("0");
            page.write_formula_with_format(row, 5, total, number)?;
        }
        Ok(())
    }

    /// Equipment and amounts: what one station needs, times the stations.
    fn mise(&mut self) -> Result<(), XlsxError> {
        let (stations, birds) = self.job.stations();
        let heads = [
            say("item"),
            say("each-station"),
            say("unit"),
            say("all-stations"),
        ];
        self.heads(say("sheet-mise"), &heads, &[50.0, 16.0, 8.0, 16.0])?;
        let units = self.sheet.units;
        let Styles {
            text,
            input,
            number,
            ..
        } = &self.styles;
        let page = self.book.worksheet_from_name(say("sheet-mise"))?;
        page.write_string_with_format(1, 0, say("stations-cell"), text)?;
        page.write_number_with_format(1, 1, stations, input)?;
        let mut lines = vec![(
            say("birds-item").to_owned(),
            f64::from(birds),
            String::new(),
        )];
        for (key, each) in class::EQUIPMENT {
            lines.push((say(key).to_owned(), f64::from(each), String::new()));
        }
        for line in &self.job.plan.answer.shopping {
            let Some((pieces, amount)) = class::at_each(line, stations, birds) else {
                continue;
            };
            let (each, unit) = match (pieces, amount) {
                (Some(count), amount) => (f64::from(count), format!("× {}", shown(&amount, units))),
                (None, Amount::Mass(mass)) => (small(mass, units), small_unit(units).to_owned()),
                (None, Amount::Volume(it)) => (volume(it, units), volume_unit(units).to_owned()),
                (None, Amount::Count { .. }) => continue,
            };
            lines.push((clean(&line.item), (each * 1000.0).round() / 1000.0, unit));
        }
        for (row, (item, each, unit)) in (2_u32..).zip(&lines) {
            page.write_string_with_format(row, 0, item, text)?;
            page.write_number_with_format(row, 1, *each, number)?;
            page.write_string_with_format(row, 2, unit, text)?;
            let all = Formula::new(format!("=B{}*$B$2", row + 1));
            let all = all.set_result((each * f64::from(stations)).to_string());
            page.write_formula_with_format(row, 3, all, number)?;
        }
        Ok(())
    }

    /// Labels: the dates follow from the hour at which the food was cooked.
    fn labels(&mut self) -> Result<(), XlsxError> {
        let keys = [
            "item",
            "label-made",
            "days-good",
            "days-last",
            "label-eat",
            "label-discard",
        ];
        let widths = [44.0, 24.0, 14.0, 14.0, 24.0, 24.0];
        self.heads(say("sheet-labels"), &keys.map(say), &widths)?;
        let Styles {
            text,
            input_when,
            when,
            ..
        } = &self.styles;
        let page = self.book.worksheet_from_name(say("sheet-labels"))?;
        for (row, label) in (1_u32..).zip(labels::labels(self.job, self.sheet)) {
            let at = row + 1;
            let (low, high) = (label.low.as_days(), label.high.as_days());
            let made = date(&label.made)?;
            let days = made.to_excel();
            page.write_string_with_format(row, 0, &label.food, text)?;
            page.write_datetime_with_format(row, 1, made, input_when)?;
            page.write_number_with_format(row, 2, low, text)?;
            page.write_number_with_format(row, 3, high, text)?;
            for (column, from, time) in [(4, 'C', low), (5, 'D', high)] {
                let until = Formula::new(format!("=B{at}+{from}{at}"));
                let until = until.set_result((days + time).to_string());
                page.write_formula_with_format(row, column, until, when)?;
            }
        }
        Ok(())
    }

    /// Gravy from the number of guests, stock from the mass of bones: each amount follows in proportion.
    fn cards(&mut self) -> Result<(), XlsxError> {
        let (units, guests) = (self.sheet.units, f64::from(self.job.guests()));
        let amounts = cards::amounts(self.job);
        let Styles {
            text,
            input,
            number,
            head,
            ..
        } = &self.styles;
        let (text, input, number) = (text.clone(), input.clone(), number.clone());
        let head = head.clone();
        let page = self.page(say("sheet-cards"), &[44.0, 18.0, 30.0, 18.0])?;
        page.write_string(0, 0, say("fill-in"))?;
        let mut row = 1;
        let mut block = |title: &str, given: (String, f64), lines: Vec<(String, f64)>| {
            page.write_string_with_format(row, 0, title, &head)?;
            page.write_string_with_format(row + 1, 0, &given.0, &text)?;
            page.write_number_with_format(row + 1, 1, given.1, &input)?;
            let source = row + 2;
            row += 2;
            for (name, value) in lines {
                let share = if given.1 > 0.0 { value / given.1 } else { 0.0 };
                let from = fill("for-each", &[("name", &name), ("other", &given.0)]);
                page.write_string_with_format(row, 0, &name, &text)?;
                let formula = Formula::new(format!("=$B${source}*D{}", row + 1));
                let formula = formula.set_result(value.to_string());
                page.write_formula_with_format(row, 1, formula, &number)?;
                page.write_string_with_format(row, 2, from, &text)?;
                page.write_number(row, 3, share)?;
                row += 1;
            }
            row += 1;
            Ok::<(), XlsxError>(())
        };
        let named = |key, unit: &str| fill("in-unit", &[("name", &say(key)), ("unit", &unit)]);
        let (cups, grams) = (volume_unit(units), small_unit(units));
        if let Some(gravy) = &amounts.gravy {
            let name = cards::thickener_name(amounts.thickener);
            let mut lines = vec![
                (named("card-volume", cups), volume(gravy.liquid, units)),
                (
                    fill("in-unit", &[("name", &name), ("unit", &grams)]),
                    small(gravy.thickener, units),
                ),
            ];
            if let Some(fat) = gravy.fat {
                lines.push((named("card-fat", grams), small(fat, units)));
            }
            block(
                say("gravy-card"),
                (say("for-guests").to_owned(), guests),
                lines,
            )?;
        }
        if let Some(stock) = &amounts.stock {
            let large_name = large_unit(units);
            let bones = (named("card-bones", large_name), large(stock.bones, units));
            let lines = vec![
                (named("card-water", cups), volume(stock.water, units)),
                (
                    named("card-vegetables", grams),
                    small(stock.vegetables, units),
                ),
                (named("card-stock", cups), volume(stock.stock, units)),
            ];
            block(say("stock-card"), bones, lines)?;
        }
        Ok(())
    }
}

/// The slow case of the planned roast.
fn slow_h(job: &Job<'_>) -> f64 {
    questions::step(&job.plan.answer.steps, "roast")
        .map_or(0.0, |step| step.duration.high.as_hours())
}
