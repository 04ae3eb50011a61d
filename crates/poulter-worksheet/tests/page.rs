//! The HTML page: nothing from outside becomes markup, and the page can be read without sight, colour or a network.

mod common;

use common::{SUPPER, TOO_LATE, planned, sheet, small};
use poulter_worksheet::Format;

fn pages() -> Vec<String> {
    let plans = [planned(SUPPER), planned(TOO_LATE), small()];
    plans.iter().map(|plan| sheet(plan, Format::Html)).collect()
}

/// The tags of a page in order, without attributes.
fn tags(page: &str) -> Vec<String> {
    page.split('<')
        .skip(1)
        .map(|rest| {
            rest.split([' ', '>', '/'])
                .next()
                .unwrap_or_default()
                .to_owned()
        })
        .filter(|name| !name.is_empty() && !name.starts_with('!'))
        .collect()
}

#[test]
fn text_from_outside_stays_text() {
    let page = sheet(&small(), Format::Html);
    assert!(!page.contains("<script"));
    assert!(!page.contains("<b>"));
    assert!(page.contains("&lt;script&gt;alert(1)&lt;/script&gt;"));
    assert!(page.contains("Supper for &quot;two&quot; &amp; &lt;b&gt;more&lt;/b&gt;"));
}

#[test]
fn nothing_is_fetched_or_run() {
    for page in pages() {
        for mark in [
            "<script", "<link", "<img", "<iframe", "src=", "@import", "http://", "https://",
        ] {
            assert!(!page.contains(mark), "{mark}");
        }
        assert!(page.contains("default-src 'none'"));
    }
}

#[test]
fn elements_are_closed_in_order() {
    for page in pages() {
        let mut open: Vec<&str> = Vec::new();
        for rest in page.split('<').skip(1) {
            let Some((tag, _)) = rest.split_once('>') else {
                panic!("{rest}")
            };
            let name = tag.split([' ', '\n']).next().unwrap_or_default();
            if name.starts_with('!') || tag.ends_with('/') || name == "meta" {
                continue;
            }
            match name.strip_prefix('/') {
                Some(closed) => assert_eq!(open.pop(), Some(closed)),
                None => open.push(name),
            }
        }
        assert!(open.is_empty(), "{open:?}");
    }
}

#[test]
fn headings_go_down_one_level_at_a_time() {
    // WCAG 2.2, success criterion 1.3.1, technique G141.
    for page in pages() {
        let mut before = 0;
        for tag in tags(&page) {
            let level = tag
                .strip_prefix('h')
                .and_then(|level| level.parse::<u32>().ok());
            if let Some(level) = level {
                assert!(level <= before + 1, "h{level} after h{before}");
                before = level;
            }
        }
        assert_eq!(page.matches("<h1>").count(), 1);
    }
}

#[test]
fn every_header_cell_has_its_scope_and_every_reference_its_target() {
    // WCAG 2.2, success criterion 1.3.1, techniques H63 and ARIA16.
    for page in pages() {
        assert_eq!(
            page.matches("<th ").count(),
            page.matches(" scope=\"").count()
        );
        assert!(!page.contains("<th>"));
        assert!(page.contains("<html lang=\"en\">"));
        for attribute in ["aria-labelledby=\"", "href=\"#"] {
            for rest in page.split(attribute).skip(1) {
                let names = rest.split('"').next().unwrap_or_default();
                for name in names.split(' ') {
                    assert_eq!(
                        page.matches(&format!(" id=\"{name}\"")).count(),
                        1,
                        "{name}"
                    );
                }
            }
        }
    }
}

#[test]
fn colours_contrast_enough() {
    // WCAG 2.2, success criterion 1.4.3: 4.5 to 1 for text; relative luminance as the definition has it.
    let luminance = |hex: &str| -> f64 {
        let channel = |at: usize| {
            let value = f64::from(u8::from_str_radix(&hex[at..at + 2], 16).unwrap()) / 255.0;
            if value <= 0.04045 {
                value / 12.92
            } else {
                to_the_2_4((value + 0.055) / 1.055)
            }
        };
        0.2126 * channel(0) + 0.7152 * channel(2) + 0.0722 * channel(4)
    };
    let page = sheet(&small(), Format::Html);
    for name in ["--ink", "--soft", "--line", "--deep"] {
        let hex = page.split(&format!("{name}: #")).nth(1).unwrap();
        let ratio = 1.05 / (luminance(&hex[..6]) + 0.05);
        assert!(ratio >= 4.5, "{name}: {ratio}");
    }
}

/// The power 2.4 as x² · x^(2/5), the fifth root by Newton's method.
fn to_the_2_4(x: f64) -> f64 {
    let target = x * x;
    let mut root = 1.0_f64;
    for _ in 0..60 {
        let fourth = root * root * root * root;
        root -= (fourth * root - target) / (5.0 * fourth);
    }
    target * root
}
