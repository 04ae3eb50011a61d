//! The steps beside and after the meal: gravy, chilling, stock, and using up what is left.

use crate::answer::TimeEstimate;
use crate::bird::Place;
use crate::gravy::Gravy;
use crate::messages::say;
use crate::rules::{Requirement, Stage, Topic};
use crate::stock::Stock;
use crate::units::Duration;

use super::amounts::Amounts;
use super::chain::{Span, Timing, limit};
use super::moment::Moment;
use super::step::Draft;
use super::steps::{Sheet, minutes, window};
use super::types::{Resource, Step, Window};

impl<'b> Sheet<'_, 'b> {
    /// Gravy is made while the bird rests.
    pub(super) fn gravy(&mut self, timing: &Timing<'b>, gravy: Option<&Gravy>) -> Step {
        let planned = timing.carve_start.before(minutes(20));
        let mut draft = Draft::new(
            "gravy",
            Stage::Gravy,
            say("step-gravy").to_owned(),
            Window {
                earliest: timing
                    .oven_in
                    .planned
                    .after(timing.roast_time.low)
                    .min(planned.clone()),
                planned,
                latest: timing.carve_start.clone(),
            },
            TimeEstimate {
                low: minutes(15),
                likely: minutes(20),
                high: minutes(25),
            },
        );
        draft.occupies(&[Resource::Cook]);
        match gravy {
            Some(gravy) => self.say_gravy(&mut draft, gravy),
            None => draft.follow(&mut self.basis, &[Topic::GravyBoil]),
        }
        draft.done()
    }

    /// Chilling, stock and keep-by dates.
    pub(super) fn after(&mut self, timing: &Timing<'b>, amounts: &Amounts) -> Vec<Step> {
        let serve = self.order.serve_at.clone();
        let out = limit(&mut self.basis, Topic::HoldOut).unwrap_or(Duration::ZERO);
        // The clock runs from when the bird is cut, not from when the guests sit down.
        let chill_by = timing.carve_start.after(out);
        let mut span = Span {
            earliest: serve.clone().min(chill_by.clone()),
            planned: serve.after(minutes(60)).min(chill_by.clone()),
            latest: chill_by.clone(),
        };
        // The stock is started after it, in the same lesson if it can be.
        span.move_into_lesson(
            self.setup,
            self.setup.busy("chill").plus(self.setup.busy("stock")),
        );
        let planned = span.planned.clone();
        let mut chill = Draft::new(
            "chill",
            Stage::Leftovers,
            say("step-chill").to_owned(),
            window(&span),
            TimeEstimate {
                low: minutes(15),
                likely: minutes(20),
                high: minutes(30),
            },
        );
        chill.occupies(&[Resource::Cook, Resource::Refrigerator]);
        chill.follow(
            &mut self.basis,
            &[
                Topic::CoolStart,
                Topic::CoolWhole,
                Topic::CoolDepth,
                Topic::HoldOutHotDay,
            ],
        );
        let cold = self.record(
            say("record-leftovers"),
            Some(Place::Core),
            Topic::HoldCold,
            say("mend-leftovers"),
        );
        chill.check(cold);

        let mut steps = vec![chill.done()];
        if amounts.bones {
            steps.push(self.stock(planned, chill_by, amounts.stock.as_ref()));
        }
        steps.extend(self.use_up(&serve));
        steps
    }

    /// Stock, or chilling what it is made from, after the meat is put away.
    fn stock(&mut self, earliest: Moment, chill_by: Moment, amount: Option<&Stock>) -> Step {
        let mut stock = Draft::new(
            "stock",
            Stage::Gravy,
            say("step-stock").to_owned(),
            Window {
                planned: earliest.after(minutes(20)).min(chill_by.clone()),
                earliest,
                latest: chill_by,
            },
            self.stock_time(),
        );
        stock.occupies(&[Resource::Cook]);
        if let Some(amount) = amount {
            self.say_stock(&mut stock, amount);
        }
        stock.follow(&mut self.basis, &[Topic::StockTime, Topic::CoolDepth]);
        let cooled = self.record(
            say("record-stock"),
            Some(Place::Core),
            Topic::HoldCold,
            say("mend-stock"),
        );
        stock.check(cooled);
        stock.done()
    }

    /// By when the leftovers are eaten or frozen.
    fn use_up(&mut self, serve: &Moment) -> Option<Step> {
        let rule = self.basis.find(Topic::KeepCooked)?;
        let Requirement::Keep { low, high, .. } = &rule.requirement else {
            return None;
        };
        let mut keep = Draft::new(
            "use-up",
            Stage::Leftovers,
            say("step-use-up").to_owned(),
            Window {
                earliest: serve.clone(),
                planned: serve.after(*low),
                latest: serve.after(*high),
            },
            TimeEstimate::exactly(minutes(15)),
        );
        keep.follow(&mut self.basis, &[Topic::KeepCooked]);
        if self.order.lines().any(|bird| bird.stuffed) {
            keep.follow(&mut self.basis, &[Topic::KeepStuffing]);
        }
        keep.follow(
            &mut self.basis,
            &[
                Topic::KeepGravy,
                Topic::Reheat,
                Topic::ReheatGravy,
                Topic::ReheatWhole,
                Topic::StorageSenses,
            ],
        );
        let hot = self.record(
            say("record-reheated"),
            Some(Place::Core),
            Topic::Reheat,
            say("mend-reheated"),
        );
        keep.check(hot);
        Some(keep.done())
    }

    fn stock_time(&mut self) -> TimeEstimate {
        self.basis
            .find(Topic::StockTime)
            .and_then(|rule| rule.requirement.time_for(self.setup.mass))
            .unwrap_or(TimeEstimate::exactly(minutes(180)))
    }
}
