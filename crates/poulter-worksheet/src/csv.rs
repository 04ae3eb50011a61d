//! A table as comma-separated values (RFC 4180), in UTF-8, lines ended by CRLF.

use crate::document::Table;

pub(crate) fn write(table: &Table) -> String {
    let mut out = String::new();
    let heads: Vec<String> = table.columns.iter().map(|name| field(name)).collect();
    line(&mut out, &heads);
    for row in &table.rows {
        let cells: Vec<String> = row.iter().map(|cell| field(cell)).collect();
        line(&mut out, &cells);
    }
    out
}

fn line(out: &mut String, cells: &[String]) {
    out.push_str(&cells.join(","));
    out.push_str("\r\n");
}

/// A cell in quotes where it needs them. A spreadsheet runs a cell that starts like a formula, so such text gets an
/// apostrophe before it.
fn field(text: &str) -> String {
    let text = if text.starts_with(['=', '+', '-', '@']) {
        format!("'{text}")
    } else {
        text.to_owned()
    };
    if text.contains([',', '"', '\r', '\n']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_quoted_and_never_run() {
        // RFC 4180, section 2, rules 5 to 7.
        for (given, expected) in [
            ("plain", "plain"),
            ("a, b", "\"a, b\""),
            ("say \"no\"", "\"say \"\"no\"\"\""),
            ("=1+1", "'=1+1"),
            ("@x,y", "\"'@x,y\""),
        ] {
            assert_eq!(field(given), expected);
        }
    }
}
