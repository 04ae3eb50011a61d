//! Logs from text: RFC 4180 records, with comma, semicolon, tab, vertical bar or blanks between the cells.

use crate::error::{Error, ErrorKind};
use crate::units::TemperatureUnit;

use super::build::{ElapsedSlice, TemperatureLog};
use super::{ColumnSlice, Place};

/// More text than this is refused.
const MOST_BYTES: usize = 256 * 1024 * 1024;

const HEADINGS: &str = "one heading elapsed_s, elapsed_min or elapsed_h, and headings that name a place and its unit, \
                        such as core_temp_degC or breast_temp_degF, are needed; columns of words may be headed note";

enum Column {
    Elapsed { seconds: f64 },
    Place(Place, TemperatureUnit),
    Note,
}

impl TemperatureLog {
    /// Reads a log from text with cells between separators (RFC 4180: quoted cells, doubled quotes, either line end).
    ///
    /// The headings carry the units: `elapsed_s`, `elapsed_min` or `elapsed_h`; then `<place>_temp_degC`, `_degF`
    /// or `_K`. The separator is what stands between them: a tab, semicolon, vertical bar or comma, or else blanks,
    /// of which several count as one, so that an empty cell must then be written as a word such as `NA`. A comma
    /// inside a cell is a decimal comma. A cell that is not a number is kept as a missing reading and found by
    /// [`TemperatureLog::faults`].
    ///
    /// ```
    /// use poulter::log::TemperatureLog;
    /// let log = TemperatureLog::from_csv("elapsed_s;core_temp_degC\r\n0;63,5\r\n60;64,1\r\n")?;
    /// assert_eq!(log.temperature(&"core".parse()?, 0).unwrap().as_celsius(), 63.5);
    /// assert_eq!(log, TemperatureLog::from_csv("elapsed_s|core_temp_degC\n0|63,5\n60|64,1\n")?);
    /// let error = TemperatureLog::from_csv("time,core\n0,63\n").unwrap_err();
    /// assert_eq!(error.code(), 201);
    /// # Ok::<(), poulter::Error>(())
    /// ```
    ///
    /// # Errors
    ///
    /// An unfinished quote, a record of another length than the heading, a heading without a unit or one that is
    /// not known, or text above 256 MiB.
    pub fn from_csv(text: &str) -> Result<Self, Error> {
        if text.len() > MOST_BYTES {
            return Err(Error::new(
                ErrorKind::TooLarge,
                text.len(),
                "at most 256 MiB of text are accepted",
            ));
        }
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let separator = Separator::of(text);
        let mut records = Records {
            rest: text,
            separator,
            line: 1,
        };
        let mut cells = Vec::new();
        if !records.next_into(&mut cells)? {
            return Err(Error::new(ErrorKind::MissingField, "", HEADINGS));
        }
        let columns: Vec<Column> = cells
            .iter()
            .map(|heading| column_of(heading.trim()))
            .collect::<Result<_, _>>()?;
        check_headings(&columns)?;
        let mut values: Vec<Vec<f64>> = columns.iter().map(|_| Vec::new()).collect();
        loop {
            let line = records.line;
            if !records.next_into(&mut cells)? {
                break;
            }
            if cells.len() == 1 && cells[0].trim().is_empty() && columns.len() > 1 {
                // An empty line at the end of a file is not a record.
                continue;
            }
            if cells.len() != columns.len() {
                return Err(Error::new(
                    ErrorKind::Malformed,
                    cells.len(),
                    format!("{} cells are needed on line {line}", columns.len()),
                ));
            }
            for (column, cell) in values.iter_mut().zip(&cells) {
                column.push(number(cell, separator));
            }
        }
        assemble(&columns, &values)
    }
}

impl std::str::FromStr for Place {
    type Err = Error;

    fn from_str(name: &str) -> Result<Self, Error> {
        Self::named(name)
    }
}

fn assemble(columns: &[Column], values: &[Vec<f64>]) -> Result<TemperatureLog, Error> {
    let mut elapsed_s = Vec::new();
    let mut places = Vec::new();
    for (column, values) in columns.iter().zip(values) {
        match column {
            Column::Elapsed { seconds } => elapsed_s = values.iter().map(|v| v * seconds).collect(),
            Column::Place(place, unit) => places.push(ColumnSlice {
                place: place.clone(),
                unit: *unit,
                temperatures: values,
            }),
            Column::Note => {}
        }
    }
    TemperatureLog::from_slices(
        ElapsedSlice {
            elapsed_s: &elapsed_s,
        },
        &places,
    )
}

/// What stands between two cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Separator {
    One(char),
    /// Any number of blanks; those at either end of a line mean nothing.
    Blanks,
}

impl Separator {
    /// The separator of the heading, judged outside quotes. No heading holds any of them.
    fn of(text: &str) -> Self {
        let mut quoted = false;
        let mut heading = String::new();
        for c in text.chars() {
            match c {
                '"' => quoted = !quoted,
                '\n' | '\r' if !quoted => break,
                _ if !quoted => heading.push(c),
                _ => {}
            }
        }
        let found = ['\t', ';', '|', ',']
            .into_iter()
            .find(|&c| heading.contains(c));
        match found {
            Some(c) => Self::One(c),
            None if heading.contains(' ') => Self::Blanks,
            None => Self::One(','),
        }
    }

    fn is(self, c: char) -> bool {
        match self {
            Self::One(separator) => c == separator,
            Self::Blanks => c == ' ' || c == '\t',
        }
    }
}

fn column_of(heading: &str) -> Result<Column, Error> {
    match heading {
        "elapsed_s" => return Ok(Column::Elapsed { seconds: 1.0 }),
        "elapsed_min" => return Ok(Column::Elapsed { seconds: 60.0 }),
        "elapsed_h" => return Ok(Column::Elapsed { seconds: 3600.0 }),
        "note" | "notes" => return Ok(Column::Note),
        _ => {}
    }
    for (ending, unit) in [
        ("_temp_degC", TemperatureUnit::Celsius),
        ("_temp_degF", TemperatureUnit::Fahrenheit),
        ("_temp_K", TemperatureUnit::Kelvin),
    ] {
        if let Some(name) = heading.strip_suffix(ending) {
            let place = Place::named(&name.replace('_', "-")).map_err(|e| e.at(heading))?;
            return Ok(Column::Place(place, unit));
        }
    }
    Err(Error::new(ErrorKind::UnitMissing, heading, HEADINGS))
}

fn check_headings(columns: &[Column]) -> Result<(), Error> {
    let clocks = columns
        .iter()
        .filter(|column| matches!(column, Column::Elapsed { .. }))
        .count();
    match clocks {
        1 => Ok(()),
        0 => Err(Error::new(ErrorKind::MissingField, "", HEADINGS)),
        _ => Err(Error::new(ErrorKind::Conflict, clocks, HEADINGS)),
    }
}

/// A plain number; NaN for anything else, `inf` and `nan` among it.
fn number(cell: &str, separator: Separator) -> f64 {
    let cell = cell.trim();
    let plain = cell
        .bytes()
        .all(|b| b.is_ascii_digit() || matches!(b, b'+' | b'-' | b'.' | b',' | b'e' | b'E'));
    if !plain {
        return f64::NAN;
    }
    if !cell.contains(',') {
        return cell.parse().unwrap_or(f64::NAN);
    }
    // Between commas only a quoted cell can hold a decimal comma; "1,234" there could be a thousand.
    let between_commas = separator == Separator::One(',');
    if between_commas && cell.split(',').nth(1).is_some_and(|after| after.len() == 3) {
        return f64::NAN;
    }
    cell.replacen(',', ".", 1).parse().unwrap_or(f64::NAN)
}

/// Splits text into records of cells.
struct Records<'a> {
    rest: &'a str,
    separator: Separator,
    line: usize,
}

impl Records<'_> {
    /// Reads the next record into `cells`; false at the end of the text.
    fn next_into(&mut self, cells: &mut Vec<String>) -> Result<bool, Error> {
        cells.clear();
        self.skip_blanks();
        if self.rest.is_empty() {
            return Ok(false);
        }
        loop {
            let (cell, ending) = self.cell()?;
            cells.push(cell);
            match ending {
                Ending::Cell => {}
                Ending::Record => {
                    self.line += 1;
                    return Ok(true);
                }
            }
        }
    }

    /// Passes over blanks where they separate, and tells whether there were any.
    fn skip_blanks(&mut self) -> bool {
        if self.separator != Separator::Blanks {
            return false;
        }
        let before = self.rest.len();
        self.rest = self.rest.trim_start_matches(|c| self.separator.is(c));
        self.rest.len() < before
    }

    fn cell(&mut self) -> Result<(String, Ending), Error> {
        let Some(quoted) = self.rest.strip_prefix('"') else {
            let separator = self.separator;
            let end = self
                .rest
                .find(|c| separator.is(c) || matches!(c, '\n' | '\r'))
                .unwrap_or(self.rest.len());
            let cell = self.rest[..end].to_owned();
            self.rest = &self.rest[end..];
            return Ok((cell, self.ending()?));
        };
        let first_line = self.line;
        let mut cell = String::new();
        let mut rest = quoted;
        loop {
            let Some(end) = rest.find('"') else {
                return Err(Error::new(
                    ErrorKind::Malformed,
                    "\"",
                    format!("the quote opened on line {first_line} must be closed"),
                ));
            };
            cell.push_str(&rest[..end]);
            rest = &rest[end + 1..];
            let Some(more) = rest.strip_prefix('"') else {
                break;
            };
            cell.push('"');
            rest = more;
        }
        self.line += cell.matches('\n').count();
        self.rest = rest;
        Ok((cell, self.ending()?))
    }

    fn ending(&mut self) -> Result<Ending, Error> {
        let is_apart = self.skip_blanks();
        if self.rest.is_empty() {
            return Ok(Ending::Record);
        }
        if let Separator::One(separator) = self.separator
            && let Some(rest) = self.rest.strip_prefix(separator)
        {
            self.rest = rest;
            return Ok(Ending::Cell);
        }
        for line_end in ["\r\n", "\n", "\r"] {
            if let Some(rest) = self.rest.strip_prefix(line_end) {
                self.rest = rest;
                return Ok(Ending::Record);
            }
        }
        if is_apart {
            return Ok(Ending::Cell);
        }
        Err(Error::new(
            ErrorKind::Malformed,
            self.rest.lines().next().unwrap_or_default(),
            format!(
                "a separator must follow the closing quote on line {}",
                self.line
            ),
        ))
    }
}

enum Ending {
    Cell,
    Record,
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn celsius(text: &str, place: &str, row: usize) -> Option<f64> {
        let log = TemperatureLog::from_csv(text).unwrap();
        let place = Place::named(place).unwrap();
        log.temperature(&place, row)
            .map(crate::units::Temperature::as_celsius)
    }

    #[test]
    fn separators_and_decimal_commas_are_told_apart() {
        for text in [
            "elapsed_s,core_temp_degC\n0,63.5\n",
            "elapsed_s;core_temp_degC\n0;63,5\n",
            "elapsed_s\tcore_temp_degC\n0\t63,5\n",
            "elapsed_s|core_temp_degC\n0|63,5\n",
            "elapsed_s | core_temp_degC\n 0 | 63.5\n",
            "elapsed_s core_temp_degC\n0 63,5\n",
            "  elapsed_s   core_temp_degC  \r\n  0 \t 63.5  \r\n   \r\n",
            "\"elapsed_s\" \"note\" \"core_temp_degC\"\n0 \"a b\"  \"63,5\" ",
            "elapsed_s, core_temp_degC\n0, 63.5\n",
            "elapsed_s,core_temp_degC,note\n0,63.5,a|b;c\n",
            "elapsed_s,core_temp_degC\r\n\"0\",\"63,5\"\r\n",
            "\u{feff}elapsed_s,core_temp_degC\r0,63.5",
            "note,elapsed_s,core_temp_degC\n\"a, \"\"b\"\"\nc\",0,+63.5\n\n",
        ] {
            assert_eq!(celsius(text, "core", 0), Some(63.5), "{text}");
        }
    }

    #[test]
    fn headings_carry_the_unit() {
        let text = "elapsed_min,left_thigh_temp_degF,core_temp_K\n1,41,278.15\n";
        assert_eq!(celsius(text, "left-thigh", 0), Some(5.0));
        assert_eq!(celsius(text, "core", 0), Some(5.0));
        let log = TemperatureLog::from_csv(text).unwrap();
        assert_eq!(log.elapsed(0).unwrap().as_seconds(), 60.0);
    }

    #[test]
    fn cells_that_are_no_number_are_missing_readings() {
        for cell in [
            "",
            "OPEN",
            "---",
            "nan",
            "inf",
            "1e999",
            "\"1,234\"",
            "6 3",
            "1.2.3",
        ] {
            let text = format!("elapsed_s,core_temp_degC\n0,{cell}\n");
            assert_eq!(celsius(&text, "core", 0), None, "{cell}");
        }
    }

    #[test]
    fn what_cannot_be_read_says_why() {
        for (text, kind) in [
            ("", ErrorKind::MissingField),
            ("core_temp_degC\n1\n", ErrorKind::MissingField),
            (
                "elapsed_s,elapsed_min,core_temp_degC\n",
                ErrorKind::Conflict,
            ),
            ("elapsed_s,core_temp\n", ErrorKind::UnitMissing),
            ("elapsed_s,core_temp_C\n", ErrorKind::UnitMissing),
            ("elapsed_s,core_temp_degC\n0\n", ErrorKind::Malformed),
            ("elapsed_s,core_temp_degC\n0,1,2\n", ErrorKind::Malformed),
            ("elapsed_s,core_temp_degC\n0,\"1\n", ErrorKind::Malformed),
            ("elapsed_s,core_temp_degC\n0,\"1\"2\n", ErrorKind::Malformed),
            // Between blanks an empty cell is no cell.
            (
                "elapsed_s core_temp_degC air_temp_degC\n0  1\n",
                ErrorKind::Malformed,
            ),
            ("elapsed_s core_temp_degC\n0 \"1\"2\n", ErrorKind::Malformed),
            (
                "elapsed_s core_temp_degC\n0 1|2\n60 1 2\n",
                ErrorKind::Malformed,
            ),
            ("elapsed_s,Core_temp_degC\n", ErrorKind::UnknownValue),
            ("elapsed_s\n", ErrorKind::OutOfRange),
        ] {
            assert_eq!(
                TemperatureLog::from_csv(text).unwrap_err().kind(),
                kind,
                "{text}"
            );
        }
    }

    /// A table as a writer puts it down, with the separator, the decimal mark, the line end, quotes where they are
    /// needed or always, and the units.
    #[derive(Clone, Debug)]
    struct Written {
        separator: char,
        missing: &'static str,
        mark: char,
        line_end: &'static str,
        quoted: bool,
        clock: (&'static str, u32),
        unit: TemperatureUnit,
        /// Tenths of the clock's unit between rows, and thousandths of a degree for two places.
        rows: Vec<(u32, i32, Option<i32>)>,
    }

    impl Written {
        fn cell(&self, text: &str) -> String {
            let needed = text.contains([self.separator, '"', '\n', '\r']);
            if self.quoted || needed {
                format!("\"{}\"", text.replace('"', "\"\""))
            } else {
                text.to_owned()
            }
        }

        fn text(&self) -> String {
            let unit = self.unit.name();
            let mut records = vec![vec![
                self.clock.0.to_owned(),
                "note".to_owned(),
                format!("core_temp_{unit}"),
                format!("left_thigh_temp_{unit}"),
            ]];
            for (now, core, thigh) in &self.rows {
                let number = |text: String| text.replace('.', &self.mark.to_string());
                // Four decimals: a group of three behind a comma could be thousands.
                let thousandths = |value: i32| {
                    let sign = if value < 0 { "-" } else { "" };
                    let size = value.unsigned_abs();
                    number(format!("{sign}{}.{:03}0", size / 1000, size % 1000))
                };
                records.push(vec![
                    number(format!("{}.{}", now / 10, now % 10)),
                    "a \"b\", c;\td|\r\ne".to_owned(),
                    thousandths(*core),
                    thigh.map_or_else(|| self.missing.to_owned(), thousandths),
                ]);
            }
            let lines = records.iter().map(|cells| {
                let cells: Vec<String> = cells.iter().map(|cell| self.cell(cell)).collect();
                cells.join(&self.separator.to_string()) + self.line_end
            });
            lines.collect()
        }
    }

    fn written() -> impl Strategy<Value = Written> {
        let clock = prop::sample::select(vec![
            ("elapsed_s", 1),
            ("elapsed_min", 60),
            ("elapsed_h", 3600),
        ]);
        let unit = prop::sample::select(vec![
            TemperatureUnit::Celsius,
            TemperatureUnit::Fahrenheit,
            TemperatureUnit::Kelvin,
        ]);
        let rows = prop::collection::vec(
            (1_u32..600, 0_i32..150_000, prop::option::of(0_i32..150_000)),
            1..20,
        );
        (
            prop::sample::select(vec![
                (',', ""),
                (';', ""),
                ('\t', ""),
                ('|', ""),
                (' ', "NA"),
            ]),
            prop::sample::select(vec!['.', ',']),
            prop::sample::select(vec!["\n", "\r\n", "\r"]),
            any::<bool>(),
            clock,
            unit,
            rows,
        )
            .prop_map(
                |((separator, missing), mark, line_end, quoted, clock, unit, mut rows)| {
                    let mut now = 0;
                    let coldest = if unit == TemperatureUnit::Kelvin {
                        233_000
                    } else {
                        -40_000
                    };
                    for row in &mut rows {
                        now += row.0;
                        row.0 = now;
                        row.1 += coldest;
                        row.2 = row.2.map(|thigh| thigh + coldest);
                    }
                    Written {
                        separator,
                        missing,
                        mark,
                        line_end,
                        quoted,
                        clock,
                        unit,
                        rows,
                    }
                },
            )
    }

    proptest! {
        #[test]
        fn what_is_written_reads_back_the_same(table in written()) {
            use crate::units::{Duration, ExactTemperature, Temperature};
            let log = TemperatureLog::from_csv(&table.text()).unwrap();
            prop_assert_eq!(log.len(), table.rows.len());
            let exact = |thousandths: i32| {
                let value = i64::from(thousandths);
                Temperature::from_exact(match table.unit {
                    TemperatureUnit::Celsius => ExactTemperature::from_millicelsius(value),
                    TemperatureUnit::Fahrenheit => ExactTemperature::from_millifahrenheit(value),
                    TemperatureUnit::Kelvin => ExactTemperature::from_millikelvin(value),
                }, table.unit)
            };
            for (row, &(now, core, thigh)) in table.rows.iter().enumerate() {
                let elapsed = log.elapsed(row).map(Duration::steps);
                prop_assert_eq!(elapsed, Some(i64::from(now * table.clock.1) * 100));
                prop_assert_eq!(log.temperature(&Place::CORE, row), Some(exact(core)));
                let left = Place::named("left-thigh").unwrap();
                prop_assert_eq!(log.temperature(&left, row), thigh.map(exact));
            }
        }

        #[test]
        fn no_bytes_panic(bytes in prop::collection::vec(any::<u8>(), 0..300), headed in any::<bool>()) {
            let heading = if headed { "elapsed_s,core_temp_degC\n" } else { "" };
            let text = format!("{heading}{}", String::from_utf8_lossy(&bytes));
            let _ = TemperatureLog::from_csv(&text);
        }

        #[test]
        fn no_body_panics(body in "[0-9,;|\t\"\r\n.eE+\\-a-z ]{0,200}") {
            for heading in [
                "elapsed_s,core_temp_degC\n",
                "elapsed_min;core_temp_degF;note\r\n",
                "elapsed_h|core_temp_K\n",
                "elapsed_s core_temp_degC\n",
            ] {
                if let Ok(log) = TemperatureLog::from_csv(&format!("{heading}{body}")) {
                    let _ = log.faults(&super::super::LogChecks::default());
                }
            }
        }
    }
}
