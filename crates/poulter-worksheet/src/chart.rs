//! The plan at a glance: one strip a day, drawn as inline SVG.

use jiff::civil::Date;
use poulter::plan::Moment;
use poulter::units::HourClock;

use crate::entry::Entry;
use crate::markup::Markup;
use crate::sheet::Sheet;
use crate::words::{fill, say};

const WIDTH: f64 = 360.0;
const INSET: f64 = 8.0;
const LANE: f64 = 20.0;
const BAR: f64 = 16.0;
/// Height of a day's name.
const NAME: f64 = 18.0;
/// Height of the hours under a strip, with the gap to the next day.
const HOURS: f64 = 24.0;
/// The narrowest bar that holds a number of two digits.
const NARROWEST: f64 = 15.0;
const DAY: f64 = 1440.0;

/// A step's part of one day, in minutes by the clock.
#[derive(PartialEq)]
struct Bar {
    number: usize,
    from: f64,
    likely: f64,
    to: f64,
    lane: usize,
}

/// One day, or several that look the same.
struct Strip {
    first: String,
    last: String,
    bars: Vec<Bar>,
    lanes: usize,
}

pub(crate) fn write(page: &mut Markup, sheet: &Sheet) {
    let strips = strips(sheet);
    let height: f64 = strips.iter().map(Strip::height).sum();
    page.raw("<svg viewBox=\"0 0 ")
        .length(WIDTH)
        .raw(" ")
        .length(height);
    page.raw(
        "\" role=\"img\" aria-labelledby=\"chart-title chart-desc\">\n<title id=\"chart-title\">",
    );
    page.text(say("overview"))
        .raw("</title>\n<desc id=\"chart-desc\">");
    for entry in sheet.entries() {
        page.count(entry.number)
            .raw(". ")
            .text(&entry.title)
            .raw(", ");
        page.text(&entry.start.shown(sheet.clock)).raw(". ");
    }
    page.raw("</desc>\n<defs><pattern id=\"stripes\" width=\"5\" height=\"5\" patternUnits=\"userSpaceOnUse\" ");
    page.raw("patternTransform=\"rotate(45)\"><rect width=\"2\" height=\"5\" class=\"stripe\"/></pattern></defs>\n");
    let mut top = 0.0;
    for strip in &strips {
        strip.draw(page, top, sheet.clock);
        top += strip.height();
    }
    page.raw("</svg>\n");
}

fn strips(sheet: &Sheet) -> Vec<Strip> {
    let first = sheet
        .entries()
        .map(|entry| entry.start.zoned().date())
        .min();
    let last = sheet.entries().map(|entry| end(entry).zoned().date()).max();
    let (Some(mut date), Some(last)) = (first, last) else {
        return Vec::new();
    };
    let mut strips: Vec<Strip> = Vec::new();
    while date <= last {
        let mut bars: Vec<Bar> = sheet
            .entries()
            .filter_map(|entry| bar(entry, date))
            .collect();
        if !bars.is_empty() {
            let lanes = stack(&mut bars);
            let name = date.strftime("%a %-d %b %Y").to_string();
            match strips.last_mut() {
                // Whole days of one and the same step need only one strip.
                Some(Strip {
                    first,
                    last,
                    bars: before,
                    ..
                }) if is_filled(before) && before == &bars => {
                    *last = name;
                }
                _ => strips.push(Strip {
                    first: name.clone(),
                    last: name,
                    bars,
                    lanes,
                }),
            }
        }
        let Ok(next) = date.tomorrow() else { break };
        date = next;
    }
    strips
}

fn is_filled(bars: &[Bar]) -> bool {
    matches!(bars, [bar] if bar.from <= 0.0 && bar.likely >= DAY)
}

fn end(entry: &Entry) -> Moment {
    entry.start.after(entry.duration.high)
}

/// The minute of the day by the clock, cut to the day.
fn minute(moment: &Moment, date: Date) -> f64 {
    let zoned = moment.zoned();
    match zoned.date().cmp(&date) {
        std::cmp::Ordering::Less => 0.0,
        std::cmp::Ordering::Greater => DAY,
        std::cmp::Ordering::Equal => f64::from(zoned.hour()) * 60.0 + f64::from(zoned.minute()),
    }
}

fn bar(entry: &Entry, date: Date) -> Option<Bar> {
    let (start, end) = (&entry.start, end(entry));
    let begins_today = start.zoned().date() == date;
    let (from, to) = (minute(start, date), minute(&end, date));
    if !begins_today && (start.zoned().date() > date || to <= 0.0) {
        return None;
    }
    let likely = minute(&start.after(entry.duration.likely), date).clamp(from, to.max(from));
    Some(Bar {
        number: entry.number,
        from,
        likely,
        to: to.max(from),
        lane: 0,
    })
}

/// Gives each bar the first lane in which it touches no other, and counts the lanes.
fn stack(bars: &mut [Bar]) -> usize {
    let mut ends: Vec<f64> = Vec::new();
    for bar in bars.iter_mut() {
        let (left, width) = bar.extent();
        let free = ends.iter().position(|end| *end <= left);
        bar.lane = free.unwrap_or(ends.len());
        match free.and_then(|lane| ends.get_mut(lane)) {
            Some(end) => *end = left + width,
            None => ends.push(left + width),
        }
    }
    ends.len()
}

fn across(minute: f64) -> f64 {
    INSET + minute / DAY * (WIDTH - 2.0 * INSET)
}

impl Bar {
    /// Left edge and width as drawn, wide enough for the number and inside the strip.
    fn extent(&self) -> (f64, f64) {
        let width = (across(self.to) - across(self.from)).max(NARROWEST);
        (across(self.from).min(WIDTH - INSET - width), width)
    }

    fn draw(&self, page: &mut Markup, top: f64) {
        let (left, width) = self.extent();
        let top = top + LANE * self.lane as f64 + (LANE - BAR) / 2.0;
        let solid = (across(self.likely) - across(self.from))
            .max(NARROWEST)
            .min(width);
        rect(page, "slow", left, top, width, BAR);
        rect(page, "likely", left, top, solid, BAR);
        page.raw("<text class=\"number\" x=\"")
            .length(left + NARROWEST / 2.0)
            .raw("\" y=\"")
            .length(top + 12.0);
        page.raw("\">").count(self.number).raw("</text>\n");
    }
}

impl Strip {
    fn height(&self) -> f64 {
        NAME + LANE * self.lanes as f64 + HOURS
    }

    fn draw(&self, page: &mut Markup, top: f64, clock: HourClock) {
        page.raw("<text class=\"day\" x=\"")
            .length(INSET)
            .raw("\" y=\"")
            .length(top + 13.0)
            .raw("\">");
        let name = if self.first == self.last {
            self.first.clone()
        } else {
            fill("days", &[("first", &self.first), ("last", &self.last)])
        };
        page.text(&name).raw("</text>\n");
        let (top, tall) = (top + NAME, LANE * self.lanes as f64);
        rect(page, "strip", INSET, top, WIDTH - 2.0 * INSET, tall);
        let hours = match clock {
            HourClock::Twelve => [
                "strip-am",
                "strip-morning",
                "strip-noon",
                "strip-evening",
                "strip-am",
            ]
            .map(say),
            HourClock::TwentyFour => ["0:00", "6:00", "12:00", "18:00", "24:00"],
        };
        for (index, (hour, x)) in hours
            .into_iter()
            .zip([0.0, 360.0, 720.0, 1080.0, DAY])
            .enumerate()
        {
            let x = across(x);
            page.raw("<line class=\"hour\" x1=\"")
                .length(x)
                .raw("\" x2=\"")
                .length(x)
                .raw("\" y1=\"")
                .length(top);
            page.raw("\" y2=\"").length(top + tall + 3.0).raw("\"/>");
            page.raw(match index {
                0 => "<text class=\"first hours\" x=\"",
                4 => "<text class=\"last hours\" x=\"",
                _ => "<text class=\"hours\" x=\"",
            });
            page.length(x)
                .raw("\" y=\"")
                .length(top + tall + 13.0)
                .raw("\">")
                .text(hour)
                .raw("</text>\n");
        }
        for bar in &self.bars {
            bar.draw(page, top);
        }
    }
}

fn rect(page: &mut Markup, class: &'static str, x: f64, y: f64, width: f64, height: f64) {
    page.raw("<rect class=\"")
        .raw(class)
        .raw("\" x=\"")
        .length(x)
        .raw("\" y=\"")
        .length(y);
    page.raw("\" width=\"")
        .length(width)
        .raw("\" height=\"")
        .length(height)
        .raw("\"/>\n");
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(from: f64, to: f64) -> Bar {
        Bar {
            number: 1,
            from,
            likely: to,
            to,
            lane: 9,
        }
    }

    #[test]
    fn bars_that_touch_share_a_lane_and_bars_that_overlap_do_not() {
        for (start, lanes) in [(599.0, 2), (600.0, 1), (601.0, 1)] {
            let mut bars = [at(300.0, 600.0), at(start, 900.0)];
            assert_eq!(stack(&mut bars), lanes, "{start}");
        }
    }

    #[test]
    fn a_bar_late_at_night_stays_on_the_strip() {
        let (left, width) = at(1439.0, 1440.0).extent();
        assert!(left + width <= WIDTH - INSET, "{left} {width}");
    }
}
