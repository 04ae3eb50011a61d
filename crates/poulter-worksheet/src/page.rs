//! The sheet as one HTML page for screen and print.

use crate::chart;
use crate::document::{Block, Card, Document, Table};
use crate::entry::{Blank, Day, Entry, Ticks};
use crate::markup::Markup;
use crate::sheet::Sheet;
use crate::words::{fill, say};

const STYLE: &str = include_str!("page.css");

pub(crate) fn write(document: &Document, sheet: &Sheet) -> String {
    let mut page = Markup::default();
    head(&mut page, document);
    page.raw("<main id=\"main\">\n");
    for section in &document.sections {
        let id = section.id;
        page.raw("<section id=\"").raw(id);
        page.raw(if section.new_page {
            "\" class=\"new-page\" aria-labelledby=\""
        } else {
            "\" aria-labelledby=\""
        });
        page.raw(id).raw("-name\">\n<h2 id=\"");
        page.raw(id)
            .raw("-name\">")
            .text(section.name)
            .raw("</h2>\n");
        for block in &section.blocks {
            write_block(&mut page, block, sheet);
        }
        page.raw("</section>\n");
    }
    page.raw("</main>\n</body>\n</html>\n");
    page.finish()
}

fn head(page: &mut Markup, document: &Document) {
    page.raw("<!DOCTYPE html>\n<html lang=\"")
        .raw(say("language"))
        .raw("\">\n<head>\n<meta charset=\"utf-8\">\n");
    // Nothing may be fetched or run, whatever text the page holds.
    page.raw("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n");
    page.raw("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>");
    page.text(document.sort)
        .raw(": ")
        .text(&document.title)
        .raw("</title>\n<style>\n")
        .raw(STYLE)
        .raw("</style>\n</head>\n<body>\n");
    page.raw("<a class=\"skip\" href=\"#main\">")
        .text(say("skip"))
        .raw("</a>\n<header>\n<p class=\"sort\">");
    page.text(document.sort)
        .raw("</p>\n<h1>")
        .text(&document.title)
        .raw("</h1>\n<dl class=\"facts\">\n");
    terms(
        page,
        document
            .facts
            .iter()
            .map(|(name, value)| (*name, value.as_str())),
    );
    page.raw("</dl>\n</header>\n");
    if document.sections.len() < 3 {
        return;
    }
    page.raw("<nav aria-label=\"")
        .text(say("contents"))
        .raw("\">\n<ul>\n");
    for section in &document.sections {
        page.raw("<li><a href=\"#")
            .raw(section.id)
            .raw("\">")
            .text(section.name)
            .raw("</a></li>\n");
    }
    page.raw("</ul>\n</nav>\n");
}

fn terms<'t>(page: &mut Markup, terms: impl Iterator<Item = (&'static str, &'t str)>) {
    for (name, value) in terms.filter(|term| !term.1.is_empty()) {
        page.raw("<div><dt>")
            .text(name)
            .raw("</dt><dd>")
            .text(value)
            .raw("</dd></div>\n");
    }
}

fn write_block(page: &mut Markup, block: &Block, sheet: &Sheet) {
    match block {
        Block::Say(text) => {
            page.raw("<p>").text(text).raw("</p>\n");
        }
        Block::Heading(text) => {
            page.raw("<h3>").text(text).raw("</h3>\n");
        }
        Block::List(texts) => list(page, "<ul>\n", texts, "</ul>\n"),
        Block::Numbered(texts) => list(page, "<ol>\n", texts, "</ol>\n"),
        Block::Remarks(remarks) => {
            page.raw("<ul class=\"findings\">\n");
            for remark in remarks {
                page.raw("<li><strong>")
                    .text(&remark.label)
                    .raw("</strong> ")
                    .text(&remark.text)
                    .raw("</li>\n");
            }
            page.raw("</ul>\n");
        }
        Block::Table(given) => table(page, given),
        Block::Overview => {
            page.raw("<figure>\n");
            chart::write(page, sheet);
            page.raw("<figcaption>")
                .text(say("overview-key"))
                .raw("</figcaption>\n</figure>\n");
        }
        Block::Steps { blanks } => {
            for day in &sheet.days {
                days_steps(page, day, *blanks);
            }
        }
        Block::Cards(given) => {
            page.raw("<div class=\"cards\">\n");
            for it in given {
                card(page, it);
            }
            page.raw("</div>\n");
        }
        Block::Sources => sources(page, sheet),
        Block::Sign(names) => {
            page.raw("<p class=\"sign\">");
            for name in names {
                page.raw("<span>").text(name).raw("</span>");
            }
            page.raw("</p>\n");
        }
    }
}

fn list(page: &mut Markup, open: &'static str, texts: &[String], close: &'static str) {
    page.raw(open);
    for text in texts {
        page.raw("<li>").text(text).raw("</li>\n");
    }
    page.raw(close);
}

/// A table that turns into a stack of named lines on a narrow screen.
fn table(page: &mut Markup, table: &Table) {
    page.raw("<table class=\"stack ")
        .raw(table.class)
        .raw("\">\n<thead><tr>");
    for name in &table.columns {
        page.raw("<th scope=\"col\">").text(name).raw("</th>");
    }
    page.raw("</tr></thead>\n<tbody>\n");
    for row in &table.rows {
        page.raw("<tr>");
        for (index, (name, cell)) in table.columns.iter().zip(row).enumerate() {
            match (index, table.boxes) {
                (0, true) => page
                    .raw("<th scope=\"row\" class=\"box\">")
                    .text(cell)
                    .raw("</th>"),
                (0, false) => page.raw("<th scope=\"row\">").text(cell).raw("</th>"),
                _ => {
                    page.raw("<td data-name=\"").text(name);
                    page.raw(if cell.is_empty() && table.has_blanks() {
                        "\" class=\"blank\">"
                    } else {
                        "\">"
                    });
                    page.text(cell).raw("</td>")
                }
            };
        }
        page.raw("</tr>\n");
    }
    page.raw("</tbody>\n</table>\n");
}

fn card(page: &mut Markup, card: &Card) {
    page.raw("<article class=\"card\">\n<h3>")
        .text(&card.title)
        .raw("</h3>\n<dl>\n");
    terms(
        page,
        card.lines
            .iter()
            .map(|(name, value)| (*name, value.as_str())),
    );
    page.raw("</dl>\n");
    if !card.to_do.is_empty() {
        list(page, "<ul class=\"do\">\n", &card.to_do, "</ul>\n");
    }
    page.raw("</article>\n");
}

fn sources(page: &mut Markup, sheet: &Sheet) {
    if let Some(day) = &sheet.sources.checked {
        page.raw("<p>")
            .text(&fill("all-checked", &[("day", day)]))
            .raw("</p>\n");
    }
    page.raw("<ul class=\"rules\">\n");
    for source in &sheet.sources.rules {
        page.raw("<li>[")
            .count(source.number)
            .raw("] <b>")
            .text(&source.title);
        page.raw("</b> <span class=\"id\">")
            .text(&source.rule)
            .raw("</span> ");
        page.text(&source.read).raw(". ");
        page.text(&source.note).raw("</li>\n");
    }
    page.raw("</ul>\n<h3>")
        .text(say("references"))
        .raw("</h3>\n<ul class=\"rules\">\n");
    for (letter, book) in &sheet.sources.books {
        page.raw("<li><b>")
            .text(letter)
            .raw("</b> ")
            .text(book)
            .raw("</li>\n");
    }
    page.raw("</ul>\n");
}

fn days_steps(page: &mut Markup, day: &Day, blanks: bool) {
    page.raw("<h3 class=\"day-name\">")
        .text(&day.name)
        .raw("</h3>\n");
    for entry in &day.entries {
        step(page, entry, blanks);
    }
}

fn step(page: &mut Markup, entry: &Entry, blanks: bool) {
    page.raw("<article class=\"step\" aria-labelledby=\"step-")
        .count(entry.number)
        .raw("\">\n<h4 id=\"step-");
    page.count(entry.number)
        .raw("\"><time datetime=\"")
        .text(&entry.start.zoned().strftime("%FT%T%:z").to_string());
    page.raw("\">")
        .text(&entry.clock)
        .raw("</time> <span class=\"name\"><span class=\"mark\">");
    page.count(entry.number)
        .raw("</span> ")
        .text(&entry.title)
        .raw("</span></h4>\n<div class=\"body\">\n");
    page.raw("<dl class=\"when\">\n");
    for (name, value) in [
        (say("start"), &entry.window),
        (say("takes"), &entry.takes),
        (say("needs"), &entry.needs),
        (say("slack"), &entry.slack),
        (say("by"), &entry.by.to_owned()),
        (say("rules"), &entry.marks),
    ] {
        if !value.is_empty() {
            page.raw("<div><dt>")
                .raw(name)
                .raw("</dt><dd>")
                .text(value)
                .raw("</dd></div>\n");
        }
    }
    page.raw("</dl>\n<div class=\"work\">\n");
    if !entry.to_do.is_empty() {
        page.raw("<ul class=\"do\">\n");
        for text in &entry.to_do {
            page.raw("<li>").text(text).raw("</li>\n");
        }
        page.raw("</ul>\n");
    }
    if let Some(repeat) = &entry.repeat {
        ticks(page, repeat);
    }
    if blanks {
        records(page, &entry.records);
    }
    page.raw("</div>\n</div>\n</article>\n");
}

fn ticks(page: &mut Markup, repeat: &Ticks) {
    page.raw("<p class=\"again\">")
        .text(repeat.text.trim_end_matches('.'))
        .raw(". ")
        .text(say("tick-each-time"))
        .raw(":</p>\n");
    page.raw("<ul class=\"do times\">\n");
    for time in &repeat.times {
        page.raw("<li>").text(time).raw("</li>\n");
    }
    page.raw("</ul>\n");
}

fn records(page: &mut Markup, records: &[Blank]) {
    if records.is_empty() {
        return;
    }
    page.raw("<table class=\"record\">\n<thead><tr>");
    for name in [
        say("record"),
        say("time"),
        say("temperature"),
        say("initials"),
    ] {
        page.raw("<th scope=\"col\">").raw(name).raw("</th>");
    }
    page.raw("</tr></thead>\n<tbody>\n");
    for record in records {
        page.raw("<tr><th scope=\"row\">")
            .text(&record.what)
            .raw(": <strong>")
            .text(&record.limit);
        page.raw("</strong>");
        if !record.otherwise.is_empty() {
            page.raw("<span class=\"otherwise\">")
                .text(say("otherwise"))
                .raw(": ")
                .text(&record.otherwise);
            page.raw("</span>");
        }
        page.raw("</th>");
        for name in ["time", "temperature", "initials"] {
            page.raw("<td data-name=\"").text(say(name)).raw("\"></td>");
        }
        page.raw("</tr>\n");
    }
    page.raw("</tbody>\n</table>\n");
}
