//! The sheet as one HTML page for screen and print.

use crate::chart;
use crate::markup::Markup;
use crate::sheet::{Blank, Day, Entry, Sheet, SourceLine, Ticks, Way};
use crate::words;

const STYLE: &str = include_str!("page.css");

/// The parts of a page that a reader can jump to: id, heading, whether it is there.
fn parts(sheet: &Sheet) -> impl Iterator<Item = (&'static str, &'static str)> {
    [
        ("answer", words::NOT_POSSIBLE, !sheet.feasible),
        ("timeline", words::TIMELINE, !sheet.days.is_empty()),
        ("shopping", words::SHOPPING, !sheet.shopping.is_empty()),
        ("findings", words::FINDINGS, !sheet.findings.is_empty()),
        (
            "ways",
            sheet.ways_heading(),
            !(sheet.runners_up.is_empty() && sheet.fell_out.is_empty()),
        ),
        ("assumed", words::ASSUMED, !sheet.assumed.is_empty()),
        ("cautions", words::CAUTIONS, !sheet.cautions.is_empty()),
        ("sources", words::SOURCES, !sheet.sources.is_empty()),
    ]
    .into_iter()
    .filter_map(|(id, name, there)| there.then_some((id, name)))
}

pub(crate) fn write(sheet: &Sheet) -> String {
    let mut page = Markup::default();
    head(&mut page, sheet);
    page.raw("<main id=\"main\">\n");
    for (id, name) in parts(sheet) {
        page.raw("<section id=\"")
            .raw(id)
            .raw("\" aria-labelledby=\"")
            .raw(id)
            .raw("-name\">\n<h2 id=\"");
        page.raw(id).raw("-name\">").raw(name).raw("</h2>\n");
        match id {
            "answer" => answer(&mut page, sheet),
            "timeline" => timeline(&mut page, sheet),
            "shopping" => shopping(&mut page, sheet),
            "findings" => findings(&mut page, sheet),
            "ways" => {
                ways(&mut page, words::RUNNERS_UP, &sheet.runners_up);
                ways(&mut page, words::FELL_OUT, &sheet.fell_out);
            }
            "assumed" => list(&mut page, &sheet.assumed),
            "cautions" => list(&mut page, &sheet.cautions),
            _ => sources(&mut page, &sheet.sources),
        }
        page.raw("</section>\n");
    }
    page.raw("</main>\n<footer><p class=\"sign\"><span>")
        .raw(words::SIGNED)
        .raw("</span><span>");
    page.raw(words::DATE)
        .raw("</span></p></footer>\n</body>\n</html>\n");
    page.finish()
}

fn head(page: &mut Markup, sheet: &Sheet) {
    page.raw("<!DOCTYPE html>\n<html lang=\"")
        .raw(words::LANGUAGE)
        .raw("\">\n<head>\n<meta charset=\"utf-8\">\n");
    // Nothing may be fetched or run, whatever text the page holds.
    page.raw("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n");
    page.raw("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>");
    page.text(&sheet.title)
        .raw("</title>\n<style>\n")
        .raw(STYLE)
        .raw("</style>\n</head>\n<body>\n");
    page.raw("<a class=\"skip\" href=\"#main\">")
        .raw(words::SKIP)
        .raw("</a>\n<header>\n<p class=\"sort\">");
    page.raw(words::SHEET)
        .raw("</p>\n<h1>")
        .text(&sheet.title)
        .raw("</h1>\n<dl class=\"facts\">\n");
    for (name, value) in &sheet.facts {
        page.raw("<div><dt>")
            .raw(name)
            .raw("</dt><dd>")
            .text(value)
            .raw("</dd></div>\n");
    }
    page.raw("</dl>\n</header>\n<nav aria-label=\"")
        .raw(words::CONTENTS)
        .raw("\">\n<ul>\n");
    for (id, name) in parts(sheet) {
        page.raw("<li><a href=\"#")
            .raw(id)
            .raw("\">")
            .raw(name)
            .raw("</a></li>\n");
    }
    page.raw("</ul>\n</nav>\n");
}

fn answer(page: &mut Markup, sheet: &Sheet) {
    page.raw("<p>")
        .raw(words::NOT_POSSIBLE_WHY)
        .raw("</p>\n<h3>")
        .raw(words::CHANGES)
        .raw("</h3>\n");
    if sheet.changes.is_empty() {
        page.raw("<p>").raw(words::NO_CHANGE).raw("</p>\n");
        return;
    }
    page.raw("<ol>\n");
    for change in &sheet.changes {
        page.raw("<li>").text(change).raw("</li>\n");
    }
    page.raw("</ol>\n");
}

fn timeline(page: &mut Markup, sheet: &Sheet) {
    page.raw("<figure>\n");
    chart::write(page, sheet);
    page.raw("<figcaption>")
        .raw(words::OVERVIEW_KEY)
        .raw("</figcaption>\n</figure>\n");
    for day in &sheet.days {
        days_steps(page, day);
    }
}

fn days_steps(page: &mut Markup, day: &Day) {
    page.raw("<h3 class=\"day-name\">")
        .text(&day.name)
        .raw("</h3>\n");
    for entry in &day.entries {
        step(page, entry);
    }
}

fn step(page: &mut Markup, entry: &Entry) {
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
        (words::START, &entry.window),
        (words::TAKES, &entry.takes),
        (words::NEEDS, &entry.needs),
        (words::RULES, &entry.marks),
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
    records(page, &entry.records);
    page.raw("</div>\n</div>\n</article>\n");
}

fn ticks(page: &mut Markup, repeat: &Ticks) {
    page.raw("<p class=\"again\">")
        .text(repeat.text.trim_end_matches('.'))
        .raw(". ")
        .raw(words::TICK)
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
        words::RECORD,
        words::TIME,
        words::TEMPERATURE,
        words::INITIALS,
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
                .raw(words::OTHERWISE)
                .raw(": ")
                .text(&record.otherwise);
            page.raw("</span>");
        }
        page.raw("</th><td></td><td></td><td></td></tr>\n");
    }
    page.raw("</tbody>\n</table>\n");
}

fn shopping(page: &mut Markup, sheet: &Sheet) {
    table_head(page, &[words::ITEM, words::AMOUNT, words::NOTE]);
    for item in &sheet.shopping {
        page.raw("<tr><th scope=\"row\" class=\"box\">")
            .text(&item.item)
            .raw("</th><td>")
            .text(&item.amount);
        page.raw("</td><td>").text(&item.note).raw("</td></tr>\n");
    }
    page.raw("</tbody>\n</table>\n");
}

fn findings(page: &mut Markup, sheet: &Sheet) {
    page.raw("<ul class=\"findings\">\n");
    for finding in &sheet.findings {
        page.raw("<li><strong>")
            .text(&finding.label)
            .raw("</strong> ")
            .text(&finding.text)
            .raw("</li>\n");
    }
    page.raw("</ul>\n");
}

fn ways(page: &mut Markup, name: &'static str, ways: &[Way]) {
    if ways.is_empty() {
        return;
    }
    page.raw("<h3>").raw(name).raw("</h3>\n");
    table_head(page, &[words::WAY, words::REASON]);
    for way in ways {
        page.raw("<tr><th scope=\"row\">")
            .text(&way.shown())
            .raw("</th><td>")
            .text(&way.reason);
        page.raw("</td></tr>\n");
    }
    page.raw("</tbody>\n</table>\n");
}

fn sources(page: &mut Markup, sources: &[SourceLine]) {
    table_head(page, &[words::RULE, words::SOURCE]);
    for source in sources {
        page.raw("<tr><th scope=\"row\">[")
            .count(source.number)
            .raw("] ")
            .text(&source.title);
        page.raw("<span class=\"id\">")
            .text(&source.rule)
            .raw("</span></th><td>");
        for name in &source.sources {
            page.raw("<span class=\"line\">").text(name).raw("</span>");
        }
        page.raw("<span class=\"line\">")
            .text(&source.read)
            .raw("</span>");
        if !source.note.is_empty() {
            page.raw("<span class=\"line\">")
                .text(&source.note)
                .raw("</span>");
        }
        page.raw("</td></tr>\n");
    }
    page.raw("</tbody>\n</table>\n");
}

fn table_head(page: &mut Markup, names: &[&'static str]) {
    page.raw("<table>\n<thead><tr>");
    for name in names {
        page.raw("<th scope=\"col\">").raw(name).raw("</th>");
    }
    page.raw("</tr></thead>\n<tbody>\n");
}

fn list(page: &mut Markup, texts: &[String]) {
    page.raw("<ul>\n");
    for text in texts {
        page.raw("<li>").text(text).raw("</li>\n");
    }
    page.raw("</ul>\n");
}
