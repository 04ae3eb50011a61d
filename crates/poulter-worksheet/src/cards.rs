//! The gravy and stock cards: amounts from the core's own functions, and what to do from the plan.

use poulter::gravy::{Body, Gravy, GravyQuery, RouxFat, Thickener, gravy};
use poulter::plan::Moment;
use poulter::purchase::Service;
use poulter::stock::{Stock, StockQuery, stock};
use poulter::units::Mass;

use crate::degrees;
use crate::document::{Block, Card, Document, Section, Table};
use crate::kinds;
use crate::sheet::{Job, Sheet};
use crate::wording::told;
use crate::words::{fill, say};

/// The thickener and the guests that the amounts are for.
pub(crate) struct Amounts {
    pub(crate) thickener: Thickener,
    pub(crate) gravy: Option<Gravy>,
    pub(crate) stock: Option<Stock>,
}

pub(crate) fn amounts(job: &Job<'_>) -> Amounts {
    let plan = &job.plan.answer;
    let thickener = job.order.guests.thickener();
    let on = Some(plan.serve_at.zoned().date());
    let all_birds = plan.bird.mass.times_ratio(i64::from(plan.bird.count), 1);
    let gravy_query = GravyQuery {
        guests: job.guests(),
        volume: None,
        bird_mass: Some(all_birds),
        generous: job.order.guests.service == Service::Buffet,
        body: Body::default(),
        thickener,
        fat: RouxFat::Drippings,
        standard: plan.standard.clone(),
        species: plan.bird.species,
        cut: plan.bird.cut,
        on,
    };
    let stock_query = StockQuery {
        bird_mass: Some(all_birds),
        bones: None,
        standard: plan.standard.clone(),
        species: plan.bird.species,
        cut: plan.bird.cut,
        on,
    };
    // A bird without a published row has no card; the sheet says so.
    Amounts {
        thickener,
        gravy: gravy(job.book, &gravy_query).ok().map(|it| it.answer),
        stock: stock(job.book, &stock_query).ok().map(|it| it.answer),
    }
}

pub(crate) fn thickener_name(thickener: Thickener) -> &'static str {
    say(match thickener {
        Thickener::Flour => "card-thickener-flour",
        Thickener::Starch => "card-thickener-starch",
    })
}

fn cards(job: &Job<'_>, sheet: &Sheet) -> Vec<Card> {
    let units = sheet.units;
    let amounts = amounts(job);
    let range = |low: &str, high: &str| fill("card-range", &[("low", &low), ("high", &high)]);
    let at_most = |amount: &str| fill("card-at-most", &[("amount", &amount)]);
    let to_do = |id: &str| -> Vec<String> {
        sheet
            .entries()
            .find(|entry| entry.id.starts_with(id))
            .map_or_else(Vec::new, |entry| entry.to_do.clone())
    };
    let mut cards = Vec::new();
    if let Some(gravy) = &amounts.gravy {
        let mut lines = vec![
            (say("card-volume"), units.volume(gravy.liquid)),
            (
                thickener_name(amounts.thickener),
                units.mass(gravy.thickener),
            ),
        ];
        if let Some(fat) = gravy.fat {
            lines.push((say("card-fat"), units.mass(fat)));
        }
        if let (Some(low), Some(high)) = (gravy.drippings_low, gravy.drippings_high) {
            let text = range(&units.volume(low), &units.volume(high));
            lines.push((say("card-drippings"), text));
        }
        if let (Some(low), Some(high)) = (gravy.rendered_fat_low, gravy.rendered_fat_high) {
            let (least, most) = (units.mass(low), units.mass(high));
            let text = if low == Mass::ZERO {
                at_most(&most)
            } else if least == most {
                fill("card-about", &[("amount", &most)])
            } else {
                range(&least, &most)
            };
            lines.push((say("card-rendered"), text));
        }
        lines.push((say("card-stock-to-have"), units.volume(gravy.stock_to_have)));
        cards.push(Card {
            title: say("gravy-card").to_owned(),
            lines,
            to_do: to_do("gravy"),
        });
    }
    if let Some(stock) = &amounts.stock {
        let mut lines = vec![
            (say("card-bones"), units.mass(stock.bones)),
            (say("card-water"), units.volume(stock.water)),
            (say("card-vegetables"), units.mass(stock.vegetables)),
            (say("card-stock"), units.volume(stock.stock)),
        ];
        if let Some(time) = stock.time {
            lines.push((say("card-time"), time.shown()));
        }
        if let (Some(low), Some(high)) = (stock.simmer_low, stock.simmer_high) {
            lines.push((say("card-simmer"), degrees::range(low, high, units)));
        }
        if let Some(time) = stock.chill_within {
            lines.push((say("card-chill"), at_most(&time.shown())));
        }
        if let Some(depth) = stock.depth {
            lines.push((say("card-depth"), told(&at_most(&depth.to_string()), units)));
        }
        cards.push(Card {
            title: say("stock-card").to_owned(),
            lines,
            to_do: to_do("stock"),
        });
    }
    cards
}

pub(crate) fn add(document: &mut Document, job: &Job<'_>, sheet: &Sheet) {
    let cards = cards(job, sheet);
    let blocks = if cards.is_empty() {
        vec![Block::Say(say("no-card").to_owned())]
    } else {
        vec![Block::Cards(cards)]
    };
    document.add(Section::new("cards", say("kind-cards"), blocks));
    document.add(kinds::cautions(sheet));
}

pub(crate) fn table(job: &Job<'_>, sheet: &Sheet) -> Table {
    let mut rows = Vec::new();
    for card in cards(job, sheet) {
        for (name, amount) in card.lines {
            rows.push(vec![card.title.clone(), name.to_owned(), amount]);
        }
    }
    Table {
        class: "",
        columns: vec![say("sheet-cards"), say("item"), say("amount")],
        rows,
        boxes: false,
    }
}

/// A day of the plan for a spreadsheet, which knows no time zones.
pub(crate) fn local(moment: &Moment) -> jiff::civil::DateTime {
    moment.zoned().datetime()
}
